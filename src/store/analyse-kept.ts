// store: an attempt of a job folder → its analysis, made anew from the frames that the job keeps.
import type { Analysis } from "../findings/analysis.js";
import type { Attempt } from "../job/attempt-schema.js";
import { analyseAttempt } from "./analyse-attempt.js";
import { boardName, viewName } from "./job-paths.js";
import { readJobFile } from "./read-job-file.js";
import { STORE_DEFAULTS, type StoreOptions } from "./store-options.js";

/** Analyse an attempt of a job again: for its check, and for pictures of which only the findings are kept.
 *  @throws ToolError E_JOB_HASH if the map or a view was changed; those of reading and analysing frames. Frames are
 *    read as they are: `checkJob` compares their hashes.
 */
export async function analyseKept(
  folder: string,
  attempt: Attempt,
  options: Partial<StoreOptions> = {},
): Promise<Analysis> {
  const o = { ...STORE_DEFAULTS, ...options };
  const json = async (name: string, sha256: string): Promise<unknown> =>
    JSON.parse(new TextDecoder().decode(await readJobFile(folder, name, sha256, o.storage)));
  const { board } = attempt;
  const views: unknown[] = [];
  for (const { view } of attempt.views) {
    views.push(view === null ? null : await json(viewName(view.sha256), view.sha256));
  }
  const map = board === null ? null : await json(boardName(board.sha256), board.sha256);
  return analyseAttempt(attempt, folder, map, views, o);
}
