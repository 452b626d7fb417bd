// place: directions of edges of two frames → the turns, scales and places at which they fit best, by trying all.
import type { Point } from "../board/polygon.js";
import type { BoardArm } from "./board-arm.js";
import { climbPose, type Pose } from "./climb-pose.js";
import type { EdgeDirections } from "./edge-directions.js";
import { edgePoints, PoseScore } from "./pose-score.js";

/** What is tried. */
export interface PoseRange {
  readonly maxAngleRad: number;
  /** Largest change of scale, as a factor, beside the ratio of the frames' widths. */
  readonly maxScale: number;
  /** Largest shift of the board's middle, as a share of the frame's width and height. */
  readonly maxShiftShare: number;
  /** Poses that come back. */
  readonly mostPoses: number;
}

interface Size {
  readonly width: number;
  readonly height: number;
}

/** Edge cells of the earlier frame that are compared at most. */
const MOST_CELLS = 220;
/** Steps of the first round, so that the outermost edges move by about 1.7 cells from one to the next. */
const STEP_CELLS = 2;

/** Try turns, scales and shifts on coarse cells, then finer ones around the best.
 *  @param zones of the earlier frame, from `boardZones`.
 */
export function searchPose(
  earlier: EdgeDirections,
  zones: Uint8Array,
  earlierSize: Size,
  later: EdgeDirections,
  laterSize: Size,
  arm: BoardArm,
  range: PoseRange,
): Pose[] {
  const points = edgePoints(earlier, zones, earlierSize.width, arm, MOST_CELLS);
  const base = laterSize.width / earlierSize.width;
  const armCells = (arm.armPx * base) / later.cellPx;
  const angleStep = STEP_CELLS / armCells;
  const scaleStep = STEP_CELLS / armCells;
  // Where the middle would lie if the camera had stood still.
  const home: Point = [
    (laterSize.width - 1) / 2 + base * (arm.centre[0] - (earlierSize.width - 1) / 2),
    (laterSize.height - 1) / 2 + base * (arm.centre[1] - (earlierSize.height - 1) / 2),
  ];
  const reachX = Math.ceil((range.maxShiftShare * laterSize.width) / later.cellPx / STEP_CELLS);
  const reachY = Math.ceil((range.maxShiftShare * laterSize.height) / later.cellPx / STEP_CELLS);
  const work = new PoseScore(points, later);
  const found: Pose[] = [];
  const angles = Math.ceil(range.maxAngleRad / angleStep);
  const scales = Math.ceil(Math.log(range.maxScale) / scaleStep);
  const step = STEP_CELLS * later.cellPx;
  for (let m = -angles; m <= angles; m++) {
    for (let n = -scales; n <= scales; n++) {
      const angleRad = m * angleStep;
      const scale = base * Math.exp(n * scaleStep);
      work.turn(angleRad, scale);
      let best: Pose | null = null;
      for (let j = -reachY; j <= reachY; j++) {
        for (let i = -reachX; i <= reachX; i++) {
          const middle: Point = [home[0] + i * step, home[1] + j * step];
          const score = work.scoreAt(middle);
          if (best === null || score > best.score) best = { angleRad, scale, middle, score };
        }
      }
      found.push(best!);
    }
  }
  found.sort((a, b) => b.score - a.score);
  const finer = found
    .slice(0, 3 * range.mostPoses)
    .map((pose) => climbPose(work, pose, { angleRad: angleStep, scale: scaleStep, shiftPx: step }));
  finer.sort((a, b) => b.score - a.score);
  return distinctPoses(finer, arm.armPx, 2 * later.cellPx).slice(0, range.mostPoses);
}

/** Poses that lie apart by more than so many px somewhere on the board; the better one stays. */
function distinctPoses(poses: readonly Pose[], armPx: number, apartPx: number): Pose[] {
  const kept: Pose[] = [];
  for (const pose of poses) {
    const near = kept.some((other) => {
      const turned =
        armPx *
        Math.hypot(
          pose.scale * Math.cos(pose.angleRad) - other.scale * Math.cos(other.angleRad),
          pose.scale * Math.sin(pose.angleRad) - other.scale * Math.sin(other.angleRad),
        );
      const moved = Math.hypot(pose.middle[0] - other.middle[0], pose.middle[1] - other.middle[1]);
      return turned + moved < apartPx;
    });
    if (!near) kept.push(pose);
  }
  return kept;
}
