// store: an earlier attempt of a job and a new baseline → how the new baseline sees the board.
import type { View } from "../board/board-schema.js";
import { meanFrame } from "../clean/mean-frame.js";
import { ToolError } from "../core/errors.js";
import type { AttemptOptions } from "../job/attempt-schema.js";
import type { Job, JobAttempt } from "../job/job.js";
import { placeNewView } from "../place/place-new-view.js";
import { requireTrusted } from "../place/require-trusted.js";
import { readFrameSources, readFrames } from "../read/read-frames.js";
import { frameSources } from "./analyse-attempt.js";

/** A view that was found, not clicked. */
export interface PlacedFrom {
  readonly view: View;
  /** Standard error over the board; that of the earlier view is not counted. */
  readonly sigmaMm: number;
}

/** Find the attempt whose view a new one is to be placed by.
 *  @throws ToolError E_JOB_BOARD if the job has no such attempt, or it has no view.
 */
export function attemptWithView(job: Job, number: number): JobAttempt {
  const found = job.attempts.find(({ attempt }) => attempt.number === number);
  if (found?.views[0] !== undefined && found.views[0] !== null && found.board !== null) return found;
  const able = job.attempts.flatMap(({ attempt, views }) => (views[0] ? [attempt.number] : []));
  throw new ToolError("E_JOB_BOARD", {
    problem:
      found === undefined
        ? `the job has no attempt ${number}`
        : `attempt ${number} has no view of its own to place a new one by`,
    fix:
      able.length === 0
        ? "Give the view of this attempt with --view"
        : `Give one of the attempts with a view (${able.join(", ")}), or a view with --view`,
  });
}

/** Place the view of a new baseline by the kept baseline and the view of an earlier attempt.
 *  @param folder the job's.
 *  @throws ToolError E_PLACE_DOUBT if the place is not sure; those of reading frames.
 */
export async function placeFrom(
  folder: string,
  earlier: JobAttempt,
  baseline: readonly string[],
  options: Pick<AttemptOptions, "scale" | "unit">,
): Promise<PlacedFrom> {
  const before = earlier.attempt.options;
  const first = await readFrameSources(
    frameSources(earlier.attempt.views[0]!.baseline, folder),
    readOptions(before),
  );
  const later = await readFrames(baseline, readOptions(options));
  const found = placeNewView(
    {
      frame: meanFrame(first.frames),
      view: earlier.views[0]!,
      viewFile: earlier.attempt.views[0]!.view!.file,
    },
    meanFrame(later.frames),
    earlier.board!,
  );
  return { view: requireTrusted(found, baseline[0]), sigmaMm: found.sigmaMm };
}

function readOptions({ scale, unit }: Pick<AttemptOptions, "scale" | "unit">) {
  return { scale: scale ?? undefined, unit: unit ?? undefined };
}
