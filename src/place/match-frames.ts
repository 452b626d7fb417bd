// place: two frames and where the board lies in the earlier one → the motion that brought one to the other.
import type { BoardMap } from "../board/board-schema.js";
import type { PlacedView } from "../board/place-view.js";
import type { Raster } from "../core/raster.js";
import type { BoardArm } from "./board-arm.js";
import { climbPose, type Pose } from "./climb-pose.js";
import { type EdgeCells, type EdgeDetail, edgeCells, FINEST_DETAIL } from "./edge-cells.js";
import { edgeDirections } from "./edge-directions.js";
import { edgePicture } from "./edge-picture.js";
import { joinCells, mapCells } from "./map-cells.js";
import { motionScale, similarityMotion } from "./motion.js";
import type { PlaceNewOptions } from "./place-new-defaults.js";
import { edgePoints, PoseScore } from "./pose-score.js";
import { type RefinedMotion, refineMotion } from "./refine-motion.js";
import { mapRounds, refineSettings, SETTLED_PX } from "./refine-settings.js";
import { searchPose } from "./search-pose.js";

/** The motion that fits best. */
export interface Match {
  readonly found: RefinedMotion;
  /** The edges it was found by, and the later frame's picture of the same detail. */
  readonly cells: EdgeCells;
  readonly picture: Raster<"K">;
  /** Detail of both, px of the earlier frame. */
  readonly detail: EdgeDetail;
}

/** Cells across a frame in the rough and in the finer search. */
const ROUGH_ACROSS = 80;
const FINE_ACROSS = 160;
/** Edge cells that the finer search compares at most. */
const FINE_CELLS = 500;
/** First the whole edges, each group with room for its edge to be a pixel or two off; then their last detail. */
const LEVELS = Object.freeze([
  {
    detail: { fineSigmaPx: 1.5, coarseSigmaPx: 3.5, groupPx: 12 },
    misfitPx: [2, 1.5, 1, 0.7, 0.5],
    settledPx: 0.03,
    maxRounds: 12,
  },
  {
    detail: FINEST_DETAIL,
    misfitPx: [0.7, 0.5, 0.35, 0.25, 0.2],
    settledPx: SETTLED_PX,
    maxRounds: 25,
  },
]);

/** Find the motion from the earlier to the later frame: all poses on coarse cells, the best ones climbed on finer
 *  cells, and the best of those refined by Gauss–Newton steps.
 *  @param earlier, later without the sensor's lines, from `edgeFrame`.
 *  @param zones from `boardZones`.
 *  @returns null if the later frame has no edge to compare.
 */
export function matchFrames(
  earlier: Raster<"degC">,
  later: Raster<"degC">,
  zones: Uint8Array,
  arm: BoardArm,
  options: PlaceNewOptions,
): Match | null {
  const best = findPose(earlier, later, zones, arm, options);
  if (!(best.score > 0)) return null;
  // A smaller later frame shows less detail: compare what both show.
  const widen = Math.max(1, earlier.width / later.width);
  let motion = similarityMotion(arm, best.angleRad, best.scale, best.middle);
  let match: Match | null = null;
  for (const { detail, ...rounds } of LEVELS) {
    const shared: EdgeDetail = {
      fineSigmaPx: widen * detail.fineSigmaPx,
      coarseSigmaPx: widen * detail.coarseSigmaPx,
      groupPx: Math.round(widen * detail.groupPx),
    };
    const cells = edgeCells(earlier, zones, shared);
    if (cells.count === 0) return null;
    const scale = motionScale(arm, motion);
    const picture = edgePicture(later, shared, scale);
    const settings = refineSettings(options, scale * shared.fineSigmaPx, rounds);
    const found = refineMotion(cells, picture, arm, motion, settings);
    motion = found.motion;
    match = { found, cells, picture, detail: shared };
  }
  return match;
}

/** Rounds of laying the view on the edges of the map, at the most. */
const MAP_ROUNDS = 30;

/** Refine a match by the edges that the map draws as well as by those of the earlier frame.
 *  @param placed where the map lies in the earlier frame.
 */
export function joinMap(
  { found, cells, picture, detail }: Match,
  placed: Pick<PlacedView, "matrix" | "side">,
  board: BoardMap,
  arm: BoardArm,
  options: PlaceNewOptions,
): RefinedMotion {
  const fineSigmaPx = motionScale(arm, found.motion) * detail.fineSigmaPx;
  const all = joinCells(cells, mapCells(placed, board, detail));
  const settings = refineSettings(options, fineSigmaPx, mapRounds(MAP_ROUNDS));
  return refineMotion(all, picture, arm, found.motion, settings);
}

/** The pose at which directions of edges agree best. */
function findPose(
  earlier: Raster<"degC">,
  later: Raster<"degC">,
  zones: Uint8Array,
  arm: BoardArm,
  options: PlaceNewOptions,
): Pose {
  const directions = (frame: Raster, across: number) =>
    edgeDirections(frame, Math.max(1, Math.round(frame.width / across)));
  const rough = searchPose(
    directions(earlier, ROUGH_ACROSS),
    zones,
    earlier,
    directions(later, ROUGH_ACROSS),
    later,
    arm,
    options,
  );
  const score = new PoseScore(
    edgePoints(directions(earlier, FINE_ACROSS), zones, earlier.width, arm, FINE_CELLS),
    directions(later, FINE_ACROSS),
  );
  const cellPx = later.width / ROUGH_ACROSS;
  const climbed = rough.map((pose) => {
    const turn = cellPx / (pose.scale * arm.armPx);
    const near = climbPose(score, pose, { angleRad: 2 * turn, scale: 2 * turn, shiftPx: 2 * cellPx });
    return climbPose(score, near, { angleRad: turn / 2, scale: turn / 2, shiftPx: cellPx / 2 });
  });
  return climbed.reduce((best, pose) => (pose.score > best.score ? pose : best));
}
