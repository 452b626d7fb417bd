// serve: something half done, such as a map that is being drawn ↔ a file in the job's inbox.
import { readdir, readFile, rm } from "node:fs/promises";
import { join } from "node:path";
import { ToolError } from "../core/errors.js";
import { writeFileAtomic } from "../report/write-file-atomic.js";
import { makeInJob } from "../store/make-in-job.js";
import { wordErrors } from "../store/store-error.js";
import { INBOX } from "./dropped-about.js";
import { refuseNewer } from "./refuse-newer.js";

const ENDING = ".draft.json";
const draftFile = (folder: string, name: string): string => join(folder, INBOX, `${name}${ENDING}`);

/** Names of the drafts of a job. */
export async function listDrafts(folder: string): Promise<string[]> {
  const names = await readdir(join(folder, INBOX)).catch(() => []);
  return names.flatMap((name) => (name.endsWith(ENDING) ? [name.slice(0, -ENDING.length)] : [])).sort();
}

/** Read a draft; null where there is none, or where it can't be read. @param name of letters, digits and `-` alone.
 *  @throws ToolError E_JOB_KIND where a newer version of the tool has written it. */
export async function readDraft(folder: string, name: string): Promise<unknown> {
  const file = draftFile(folder, name);
  const text = await readFile(file, "utf8").catch(() => null);
  return text === null ? null : parseDraft(text, file);
}

/** Read the text of a draft's file; null for what is none, or was torn.
 *  @throws ToolError E_JOB_KIND where a newer version of the tool has written it. */
export function parseDraft(text: string, file: string): unknown {
  let kept: { draft?: unknown } | null;
  try {
    kept = JSON.parse(text);
  } catch {
    return null;
  }
  refuseNewer(kept, "faultglow/draft", file);
  return kept?.draft ?? null;
}

/** Write a draft, whole and flushed.
 *  @throws ToolError E_BENCH_REQUEST if it is no JSON that can be written, E_JOB_WRITE, E_JOB_KIND where one of a newer
 *    version would be written over. */
export async function writeDraft(folder: string, name: string, draft: unknown): Promise<void> {
  await readDraft(folder, name);
  let text: string;
  try {
    text = JSON.stringify({ kind: "faultglow/draft", version: 1, draft: draft ?? null });
  } catch {
    throw new ToolError("E_BENCH_REQUEST", {
      problem: "expected a draft that can be written, found one nested too deep",
      fix: "Load the page again; if that does not help, report it",
    });
  }
  await wordErrors(folder, async () => {
    await makeInJob(folder, INBOX);
    await writeFileAtomic(draftFile(folder, name), text);
  });
}

/** Remove a draft; nothing if there is none. */
export async function removeDraft(folder: string, name: string): Promise<void> {
  await rm(draftFile(folder, name), { force: true });
}
