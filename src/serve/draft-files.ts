// serve: something half done, such as a map that is being drawn ↔ a file in the job's inbox.
import { readdir, readFile, rm } from "node:fs/promises";
import { join } from "node:path";
import { ToolError } from "../core/errors.js";
import { writeFileAtomic } from "../report/write-file-atomic.js";
import { makeInJob } from "../store/make-in-job.js";
import { INBOX } from "./dropped-about.js";

const ENDING = ".draft.json";
const draftFile = (folder: string, name: string): string => join(folder, INBOX, `${name}${ENDING}`);

/** Names of the drafts of a job. */
export async function listDrafts(folder: string): Promise<string[]> {
  const names = await readdir(join(folder, INBOX)).catch(() => []);
  return names.flatMap((name) => (name.endsWith(ENDING) ? [name.slice(0, -ENDING.length)] : [])).sort();
}

/** Read a draft; null where there is none, or where it can't be read. @param name of letters, digits and `-` alone. */
export async function readDraft(folder: string, name: string): Promise<unknown> {
  try {
    return (JSON.parse(await readFile(draftFile(folder, name), "utf8")) as { draft: unknown }).draft ?? null;
  } catch {
    return null;
  }
}

/** Write a draft, whole and flushed. @throws ToolError E_BENCH_REQUEST if it is no JSON that can be written, E_JOB_WRITE */
export async function writeDraft(folder: string, name: string, draft: unknown): Promise<void> {
  let text: string;
  try {
    text = JSON.stringify({ kind: "faultglow/draft", version: 1, draft: draft ?? null });
  } catch {
    throw new ToolError("E_BENCH_REQUEST", {
      problem: "expected a draft that can be written, found one nested too deep",
      fix: "Load the page again; if that does not help, report it",
    });
  }
  try {
    await makeInJob(folder, INBOX);
    await writeFileAtomic(draftFile(folder, name), text);
  } catch (error) {
    throw new ToolError("E_JOB_WRITE", {
      problem: `the job's folder can't be written to: ${(error as Error).message}`,
      fix: "Free some space, or check the folder's permissions",
      place: { file: folder },
    });
  }
}

/** Remove a draft; nothing if there is none. */
export async function removeDraft(folder: string, name: string): Promise<void> {
  await rm(draftFile(folder, name), { force: true });
}
