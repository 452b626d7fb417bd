// page: an attempt → a small board, of the same size and on the same colours as the others.
import type { JobState } from "../../api/jobs-schema.js";
import type { Point } from "../../board/polygon.js";
import { BoardCanvas } from "../answer/board-canvas.js";
import { pathOf } from "../answer/board-marks.js";
import { type Fit, stageToScreen } from "../board/make-stage.js";
import type { BoardPicture } from "../board/prepare-picture.js";
import { isDark } from "../state/settings.js";

/** A picture with its limits. */
export interface SmallPicture {
  readonly picture: BoardPicture;
  readonly leastSigma: number;
  readonly leastRiseK: number;
}

interface SmallBoardProps {
  readonly attempt: JobState["attempts"][number];
  readonly small: SmallPicture;
  readonly fit: Fit;
  readonly scaleK: { readonly low: number; readonly high: number };
  /** Refs that are ringed: what changed. */
  readonly refs: ReadonlySet<string>;
}

/** The small board of an attempt. */
export function SmallBoard({ attempt, small, fit, scaleK, refs }: SmallBoardProps) {
  const { picture, leastSigma, leastRiseK } = small;
  const { stage } = picture;
  const path = (points: readonly Point[]): string =>
    pathOf(points.map((point) => stageToScreen(stage, { ...fit, x: 0, y: 0 }, point)));
  return (
    <>
      <BoardCanvas
        picture={picture}
        options={{ leastSigma, leastRiseK, scaleK, greyC: picture.greyC, isDark: isDark.value }}
        width={fit.width}
        height={fit.height}
      />
      <svg class="small-marks" width={fit.width} height={fit.height} aria-hidden="true">
        {stage.outline !== null && <path class="outline" d={path(stage.outline)} />}
        {attempt.board?.regions
          .filter(({ ref, side }) => side === stage.side && refs.has(ref))
          .map(({ ref, polygon }) => (
            <path key={ref} class="region suspected" d={path(polygon)} />
          ))}
      </svg>
    </>
  );
}
