// serve: a picture that was dropped, and the other files of the inbox → the scale that goes with it.
import { readFile } from "node:fs/promises";
import type { ErrorWords } from "../api/answer-error-schema.js";
import { ToolError } from "../core/errors.js";
import { sidecarNames } from "../frames/choose-scale.js";
import { readScaleObject } from "../frames/scale-schema.js";
import { parseJsonBytes } from "../read/read-json-file.js";
import { sha256Of } from "../store/job-paths.js";
import { type About, droppedPath } from "./dropped-about.js";
import { errorWords } from "./error-words.js";
import type { DroppedFile } from "./works.js";

/** Find the scale of a picture: the one that was said, else one that was dropped under its name.
 *  @throws ToolError E_SCALE_VALUE if that file holds no scale that can be used, E_JOB_HASH if it is no longer what was
 *  dropped. */
export async function scaleOf(
  folder: string,
  { scale, names }: About,
  abouts: ReadonlyMap<string, About>,
): Promise<DroppedFile["beside"]> {
  if (scale !== null) return { from: "what was said on the page", scale };
  for (const wanted of names.flatMap(sidecarNames)) {
    for (const about of abouts.values()) {
      if (about.read?.sort !== "scale" || !about.names.includes(wanted)) continue;
      const bytes = await readFile(droppedPath(folder, about)).catch(() => null);
      if (bytes === null || sha256Of(bytes) !== about.sha256) throw changedError(wanted, bytes === null);
      return { from: wanted, scale: readScaleObject(parseJsonBytes(bytes, wanted), { file: wanted }) };
    }
  }
  return null;
}

/** What `scaleOf` gives, or the words of its error. */
export type FoundScale = { readonly beside: DroppedFile["beside"] } | { readonly error: ErrorWords };

/** Find the scale of a picture, and say what is wrong with it in place of throwing. */
export async function findScale(...of: Parameters<typeof scaleOf>): Promise<FoundScale> {
  try {
    return { beside: await scaleOf(...of) };
  } catch (error) {
    if (!(error instanceof ToolError)) throw error;
    return { error: errorWords(error) };
  }
}

function changedError(file: string, isMissing: boolean): ToolError {
  return new ToolError("E_JOB_HASH", {
    problem: isMissing
      ? "the scale that was dropped under this name can't be read any more"
      : "the scale that was dropped under this name was changed on the disk since",
    fix: "Drop it again",
    place: { file },
  });
}
