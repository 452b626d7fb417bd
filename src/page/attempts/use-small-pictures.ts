// page: the attempts of a job → their pictures on small grids, as they come.
import { useEffect, useState } from "preact/hooks";
import type { JobState } from "../../api/jobs-schema.js";
import { makeStage } from "../board/make-stage.js";
import { paintLimits, preparePicture, viewThreshold } from "../board/prepare-picture.js";
import { thresholdAt } from "../board/threshold-at.js";
import { announceError } from "../state/announce.js";
import { attemptPictures } from "../state/attempt-pictures.js";
import type { SmallPicture } from "./small-board.js";

/** Grid points along the longer side: enough for a board of 300 px, and for the larger one of a large screen. */
const GRID = 480;

/** Fetch the pictures of all attempts, one after the other. */
export function useSmallPictures(state: JobState): ReadonlyMap<number, SmallPicture> {
  const [found, setFound] = useState<ReadonlyMap<number, SmallPicture>>(new Map());
  const numbers = state.attempts.map(({ attempt }) => attempt.number).join(" ");
  useEffect(() => {
    let isGone = false;
    const load = async (): Promise<void> => {
      const all = new Map(found);
      for (const attempt of state.attempts) {
        const { number } = attempt.attempt;
        if (all.has(number)) continue;
        const frame = await attemptPictures(state.id, number);
        if (isGone) return;
        const view = attempt.views[0] ?? null;
        const picture = preparePicture(frame, makeStage(attempt.board, view, frame), "rise", GRID);
        if (picture === null) continue;
        const ofView = viewThreshold(attempt.findings, 0);
        all.set(number, {
          picture,
          ...paintLimits(picture, thresholdAt(ofView, attempt.findings.threshold.falseAlarmsPerFrame)),
        });
        setFound(new Map(all));
      }
    };
    load().catch(announceError);
    return () => {
      isGone = true;
    };
  }, [state.id, numbers]);
  return found;
}
