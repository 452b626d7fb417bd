// place: a frame, a map and about where it lies → the place at which the edges that the map draws fit best.
import { bandPass } from "../align/band-pass.js";
import type { BoardMap } from "../board/board-schema.js";
import type { PlacedView } from "../board/place-view.js";
import { applyHomography, composeHomographies, type Matrix3 } from "../board/plane-transform.js";
import { boundsOf, type Point } from "../board/polygon.js";
import type { Raster } from "../core/raster.js";
import { whiteNoiseGain } from "../numeric/gaussian-filter.js";
import { mapCells } from "./map-cells.js";
import {
  type BoardArm,
  MOTION_SIZE,
  type Motion,
  motionMatrix,
  motionRows,
  similarityMotion,
} from "./motion.js";
import type { PlaceNewOptions } from "./place-new-defaults.js";
import { type RefinedMotion, refineMotion } from "./refine-motion.js";
import { type Anchor, MISFIT_PX, PIXEL_K, SETTLED_PX } from "./refine-settings.js";

/** A place by the map's own edges. */
export interface MapPlace {
  /** Board mm → px. */
  readonly matrix: Matrix3;
  /** The step from the place that was given, about the arm. */
  readonly found: RefinedMotion;
  readonly arm: BoardArm;
}

/** Sizes at which edges are seen, px, and side of the groups that share a contrast. */
const DETAIL = Object.freeze({ fineSigmaPx: 1.2, coarseSigmaPx: 2.5, groupPx: 9 });
/** Rounds at the most. */
const MOST_ROUNDS = 25;

/** Move a map until the edges of outline and parts lie on the frame's. What it draws that shows no edge has no pull.
 *  @param frame without the sensor's lines, from `edgeFrame`.
 *  @param view where the map lies, to a pixel or two.
 *  @param knownPx how well the board's corners are known beforehand, px; null: not at all.
 *  @returns null if the map has no shape large enough to show an edge.
 */
export function refineOnMap(
  frame: Raster<"degC">,
  view: Pick<PlacedView, "matrix" | "side">,
  board: BoardMap,
  knownPx: number | null,
  { priorStretch, priorTilt }: Pick<PlaceNewOptions, "priorStretch" | "priorTilt">,
): MapPlace | null {
  const cells = mapCells(view, board, DETAIL);
  if (cells.count === 0) return null;
  const arm = boardArm(view, board);
  const start = similarityMotion(arm, 0, 1, arm.centre);
  const corners = boxOf(board).map((corner) => applyHomography(view.matrix, corner));
  const { width, height } = frame;
  const picture = bandPass(frame.data, width, height, DETAIL.fineSigmaPx, DETAIL.coarseSigmaPx);
  const found = refineMotion(cells, picture, width, height, arm, start, {
    misfitPx: MISFIT_PX,
    settledPx: SETTLED_PX,
    maxRounds: MOST_ROUNDS,
    priorStretch,
    priorTilt,
    noiseK: PIXEL_K * whiteNoiseGain(DETAIL.fineSigmaPx),
    ...(knownPx === null ? {} : { anchor: cornerAnchor(arm, start, corners, knownPx) }),
  });
  return { matrix: composeHomographies(motionMatrix(arm, found.motion), view.matrix), found, arm };
}

/** The board's middle in the frame, and the distance of its farthest corner. */
export function boardArm({ matrix }: Pick<PlacedView, "matrix">, { outline }: BoardMap): BoardArm {
  const corners = outline.map((corner) => applyHomography(matrix, corner));
  const { minX, minY, maxX, maxY } = boundsOf(corners);
  const centre: Point = [(minX + maxX) / 2, (minY + maxY) / 2];
  return { centre, armPx: Math.max(...corners.map(([x, y]) => Math.hypot(x - centre[0], y - centre[1]))) };
}

/** Each corner's x and y known to so many px: what four clicked fiducials fix. */
function cornerAnchor(arm: BoardArm, motion: Motion, corners: readonly Point[], sigmaPx: number): Anchor {
  const precision = new Float64Array(MOTION_SIZE ** 2);
  for (const row of corners.flatMap((corner) => motionRows(arm, motion, corner))) {
    for (let r = 0; r < MOTION_SIZE; r++) {
      for (let c = 0; c < MOTION_SIZE; c++)
        precision[r * MOTION_SIZE + c]! += (row[r]! * row[c]!) / sigmaPx ** 2;
    }
  }
  return { motion, precision };
}

function boxOf({ outline }: BoardMap): Point[] {
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  return [
    [minX, minY],
    [maxX, minY],
    [maxX, maxY],
    [minX, maxY],
  ];
}
