// place: a motion with its covariance and points of the board → the error of their places in the later frame.
import type { Point } from "../board/polygon.js";
import type { BoardArm } from "./board-arm.js";
import { MOTION_SIZE, type Motion, motionRows } from "./motion.js";

/** Root mean square error of places, px of the later frame.
 *  @param points px of the earlier frame.
 *  @param covariance of the eight parameters, row-major.
 */
export function motionErrorPx(
  arm: BoardArm,
  motion: Motion,
  covariance: Float64Array,
  points: readonly Point[],
): number {
  let sum = 0;
  for (const point of points) {
    for (const row of motionRows(arm, motion, point)) sum += quadratic(covariance, row);
  }
  return Math.sqrt(sum / points.length);
}

function quadratic(covariance: Float64Array, row: readonly number[]): number {
  let sum = 0;
  for (let r = 0; r < MOTION_SIZE; r++) {
    for (let c = 0; c < MOTION_SIZE; c++) sum += row[r]! * covariance[r * MOTION_SIZE + c]! * row[c]!;
  }
  return sum;
}
