// store: readings, references, actions and remarks → lines of the journal.
import type { Entry, Said } from "../job/entry-schema.js";
import { momentOf } from "../job/moment-of.js";
import { lockJob } from "./lock-job.js";
import { readJournal } from "./read-journal.js";
import { wordErrors } from "./store-error.js";
import { STORE_DEFAULTS, type StoreOptions } from "./store-options.js";
import { recoverJob, writeJournal } from "./write-journal.js";

/** What stands in the journal alone; maps and attempts come with files and have operations of their own. */
export type PlainSaid = Exclude<Said, { type: "board" | "attempt" }>;

/** Say something of a job. Several things are said together: if the disk refuses, none of them is.
 *  @param options.at when it was, ISO 8601 with offset; now, if absent.
 *  @returns the lines that were added.
 *  @throws ToolError E_JOB_LOCKED, E_JOB_WRITE, E_JOB_ENTRY, and those of `readJournal`.
 */
export async function appendSaid(
  folder: string,
  said: readonly PlainSaid[],
  options: Partial<StoreOptions> & { readonly at?: string | undefined } = {},
): Promise<Entry[]> {
  const o = { ...STORE_DEFAULTS, ...options };
  return wordErrors(folder, async () => {
    // Asked before the lock, so that a folder that holds no job is not written to.
    await readJournal(folder, o.storage);
    return lockJob(folder, o, async () => {
      const { journal } = await readJournal(folder, o.storage);
      await recoverJob(folder, journal, o.storage);
      return writeJournal(folder, journal, said, options.at ?? momentOf(o.now()), o.storage);
    });
  });
}
