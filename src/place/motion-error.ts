// place: a motion with its covariance and points of the board → the error of their places in the later frame.
import type { Point } from "../board/polygon.js";
import { type BoardArm, MOTION_SIZE, type Motion } from "./motion.js";

/** Root mean square error of places, px of the later frame.
 *  @param points px of the earlier frame.
 *  @param covariance of the eight parameters, row-major.
 */
export function motionErrorPx(
  { centre, armPx }: BoardArm,
  [a, b, , , e, f, p, q]: Motion,
  covariance: Float64Array,
  points: readonly Point[],
): number {
  let sum = 0;
  for (const point of points) {
    const u = (point[0] - centre[0]) / armPx;
    const v = (point[1] - centre[1]) / armPx;
    const w = 1 / (1 + p * u + q * v);
    const x = ((a + e) * u + (f - b) * v) * w;
    const y = ((b + f) * u + (a - e) * v) * w;
    sum += quadratic(covariance, [w * u, -w * v, 1, 0, w * u, w * v, -w * u * x, -w * v * x]);
    sum += quadratic(covariance, [w * v, w * u, 0, 1, -w * v, w * u, -w * u * y, -w * v * y]);
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
