// page: the attempts of a job → their pictures on small grids, as they come.
import { useEffect, useRef, useState } from "preact/hooks";
import type { JobState } from "../../api/jobs-schema.js";
import { makeStage } from "../board/make-stage.js";
import { paintLimits, preparePicture, viewThreshold } from "../board/prepare-picture.js";
import { thresholdAt } from "../board/threshold-at.js";
import { announceError } from "../state/announce.js";
import { attemptPictures } from "../state/attempt-pictures.js";
import type { SmallPicture } from "./small-board.js";

/** Most grid points along the longer side: enough for a board of 300 px, and for the larger one of a large screen. */
const MOST_GRID = 480;
/** Grids grow in such steps, so that a window that is drawn larger has few of them made. */
const GRID_STEP = 40;

/** Grid points for a board that is so wide on the screen, px of the page. As many as pixels that show them: a contour
 *  of one point falls apart into dashes where every other is left out. */
export function smallGrid(widthPx: number, pixelRatio: number): number {
  return Math.min(MOST_GRID, Math.max(GRID_STEP, Math.round((widthPx * pixelRatio) / GRID_STEP) * GRID_STEP));
}

/** Fetch the pictures of all attempts, one after the other.
 *  @param grid points along the longer side; 0: not known yet. */
export function useSmallPictures(state: JobState, grid: number): ReadonlyMap<number, SmallPicture> {
  const [found, setFound] = useState<ReadonlyMap<number, SmallPicture>>(new Map());
  const madeOn = useRef(grid);
  const numbers = state.attempts.map(({ attempt }) => attempt.number).join(" ");
  useEffect(() => {
    let isGone = false;
    const load = async (): Promise<void> => {
      if (grid === 0) return;
      const all = madeOn.current === grid ? new Map(found) : new Map<number, SmallPicture>();
      madeOn.current = grid;
      for (const attempt of state.attempts) {
        const { number } = attempt.attempt;
        if (all.has(number)) continue;
        const frame = await attemptPictures(state.id, number);
        if (isGone) return;
        const view = attempt.views[0] ?? null;
        const picture = preparePicture(frame, makeStage(attempt.board, view, frame), "rise", grid);
        if (picture === null) continue;
        const ofView = viewThreshold(attempt.findings, 0);
        all.set(number, {
          picture,
          ...paintLimits(
            picture,
            thresholdAt(ofView, frame.width * frame.height, attempt.findings.threshold.falseAlarmsPerFrame),
          ),
        });
        setFound(new Map(all));
      }
    };
    load().catch(announceError);
    return () => {
      isGone = true;
    };
  }, [state.id, numbers, grid]);
  return found;
}
