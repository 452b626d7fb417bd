// store: what is to be said → lines at the end of the journal, with what a crash left behind put aside first.
import { ToolError } from "../core/errors.js";
import { type Entry, type Said, saidSchema } from "../job/entry-schema.js";
import { entryText, type Journal } from "../job/parse-journal.js";
import { ASIDE, JOURNAL_FILE, pathIn, sha256Of } from "./job-paths.js";
import { sweepStages } from "./stage.js";
import type { Storage } from "./storage.js";

/** Put aside the torn last line of a journal and remove what dead processes left half made. Called with the lock held,
 *  before anything is written. The torn bytes are kept in `aside/`: they may tell a person what was lost.
 */
export async function recoverJob(folder: string, { torn, length }: Journal, storage: Storage): Promise<void> {
  await sweepStages(folder, storage);
  if (torn === null) return;
  await storage.makeFolder(pathIn(folder, ASIDE));
  const aside = pathIn(folder, `${ASIDE}/line-${sha256Of(torn).slice(0, 16)}.txt`);
  // A crash may have come between the two steps below: then the copy is there already, whole or not.
  await storage.remove(aside);
  await storage.create(aside, torn);
  await storage.truncate(pathIn(folder, JOURNAL_FILE), length);
}

/** Append lines. With the last byte they are said; before it, nothing is. Called with the lock held.
 *  @param journal as it stands on the disk, after `recoverJob`.
 *  @throws ToolError E_JOB_ENTRY if a withdrawal names no line that could be withdrawn; the disk's errors, after the
 *    journal was cut back to what it was.
 */
export async function writeJournal(
  folder: string,
  journal: Pick<Journal, "entries" | "seal" | "length">,
  said: readonly Said[],
  at: string,
  storage: Storage,
): Promise<Entry[]> {
  const path = pathIn(folder, JOURNAL_FILE);
  const entries: Entry[] = [];
  let text = "";
  let previous = journal.seal;
  for (const one of said) {
    const seq = journal.entries.length + entries.length + 1;
    const all = [...journal.entries, ...entries];
    if (one.type === "withdrawal") checkWithdrawal(one.seq, all, path);
    const entry: Entry = {
      kind: "faultglow/entry",
      version: 1,
      seq,
      previous,
      at,
      said: saidSchema.parse(one),
    };
    const line = entryText(entry);
    entries.push(entry);
    text += `${line}\n`;
    previous = sha256Of(line);
  }
  try {
    await storage.append(path, new TextEncoder().encode(text));
  } catch (error) {
    await storage.truncate(path, journal.length);
    throw error;
  }
  return entries;
}

function checkWithdrawal(seq: number, entries: readonly Entry[], file: string): void {
  const entry = entries[seq - 1];
  const gone = entries.some(({ said }) => said.type === "withdrawal" && said.seq === seq);
  const type = entry?.said.type;
  const problem =
    entry === undefined
      ? `expected the number of a line of the journal, 1 … ${entries.length}, found ${seq}`
      : gone
        ? `line ${seq} was withdrawn already`
        : type === "withdrawal"
          ? `line ${seq} is a withdrawal, which can't be withdrawn`
          : null;
  if (problem === null) return;
  throw new ToolError("E_JOB_ENTRY", {
    problem,
    fix: "See the numbers with faultglow job show; what was withdrawn by mistake has to be said again",
    place: { file },
  });
}
