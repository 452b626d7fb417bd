// store: a job folder and its journal → the names of all files that are part of the job.
import { ToolError } from "../core/errors.js";
import type { Attempt } from "../job/attempt-schema.js";
import type { Entry } from "../job/entry-schema.js";
import {
  attemptFile,
  attemptName,
  boardName,
  frameName,
  JOB_FILE,
  JOURNAL_FILE,
  viewName,
} from "./job-paths.js";
import { readAttempt } from "./open-job.js";
import type { Storage } from "./storage.js";

/** List the files of a job, those of withdrawn lines too: a record is handed over whole.
 *  Of an attempt that can't be read, what is known is attempt.json alone.
 *  @returns names with `/`, sorted.
 */
export async function jobFiles(
  folder: string,
  entries: readonly Entry[],
  storage: Storage,
): Promise<string[]> {
  const names = new Set([JOB_FILE, JOURNAL_FILE]);
  for (const { said } of entries) {
    if (said.type === "board") names.add(boardName(said.sha256));
    if (said.type !== "attempt") continue;
    names.add(attemptFile(said.number));
    const read = await readAttempt(folder, said.number, said.sha256, storage).catch((error) => {
      if (error instanceof ToolError) return null;
      throw error;
    });
    if (read === null) continue;
    const { attempt } = read;
    for (const frame of framesOf(attempt)) names.add(frameName(frame));
    for (const { view } of attempt.views) if (view !== null) names.add(viewName(view.sha256));
    if (attempt.board !== null) names.add(boardName(attempt.board.sha256));
    for (const file of Object.keys(attempt.files)) names.add(`${attemptName(said.number)}/${file}`);
  }
  return [...names].sort();
}

/** Every frame of an attempt, of both views. */
export function framesOf(attempt: Attempt) {
  return attempt.views.flatMap(({ baseline, powered }) => [...baseline, ...powered]);
}
