// place: a frame, a map and about where it lies → the place at which the edges that the map draws fit best.
import type { BoardMap } from "../board/board-schema.js";
import type { PlacedView } from "../board/place-view.js";
import { applyHomography, composeHomographies, type Matrix3 } from "../board/plane-transform.js";
import type { Point } from "../board/polygon.js";
import type { Raster } from "../core/raster.js";
import { type BoardArm, boardArm, boxCorners } from "./board-arm.js";
import { FINEST_DETAIL } from "./edge-cells.js";
import { edgePicture } from "./edge-picture.js";
import { mapCells } from "./map-cells.js";
import { MOTION_SIZE, type Motion, motionMatrix, motionRows, similarityMotion } from "./motion.js";
import type { PlaceNewOptions } from "./place-new-defaults.js";
import { type RefinedMotion, refineMotion } from "./refine-motion.js";
import { type Anchor, mapRounds, refineSettings } from "./refine-settings.js";

/** A place by the map's own edges. */
export interface MapPlace {
  /** Board mm → px. */
  readonly matrix: Matrix3;
  /** The step from the place that was given. */
  readonly found: RefinedMotion;
}

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
  priors: Pick<PlaceNewOptions, "priorStretch" | "priorTilt">,
): MapPlace | null {
  const cells = mapCells(view, board, FINEST_DETAIL);
  if (cells.count === 0) return null;
  const arm = boardArm(view, board);
  const start = similarityMotion(arm, 0, 1, arm.centre);
  const corners = boxCorners(board.outline).map((corner) => applyHomography(view.matrix, corner));
  const found = refineMotion(cells, edgePicture(frame, FINEST_DETAIL), arm, start, {
    ...refineSettings(priors, FINEST_DETAIL.fineSigmaPx, mapRounds(MOST_ROUNDS)),
    ...(knownPx === null ? {} : { anchor: cornerAnchor(arm, start, corners, knownPx) }),
  });
  return { matrix: composeHomographies(motionMatrix(arm, found.motion), view.matrix), found };
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
