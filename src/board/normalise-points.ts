// board: points in any unit → the same points about their mean, at a root mean square distance of √2.
import type { Matrix3 } from "./plane-transform.js";
import type { Point } from "./polygon.js";

/** Points moved and scaled so that sums of their products keep their digits. */
export interface NormalisedPoints {
  readonly points: readonly Point[];
  /** Given → normalised, 3×3 row by row. */
  readonly matrix: Matrix3;
  /** Normalised → given. */
  readonly inverse: Matrix3;
}

/** Move points to their mean and scale them to a root mean square distance of √2.
 *  Method: Hartley 1997, "In defense of the eight-point algorithm", IEEE TPAMI 19:580. Differs: root mean square
 *  distance in place of the mean distance.
 *  @throws RangeError if all points are one (a fault of the caller). */
export function normalisePoints(points: readonly Point[]): NormalisedPoints {
  let meanX = 0;
  let meanY = 0;
  for (const [x, y] of points) {
    meanX += x / points.length;
    meanY += y / points.length;
  }
  let squares = 0;
  for (const [x, y] of points) squares += (x - meanX) ** 2 + (y - meanY) ** 2;
  const scale = Math.sqrt((2 * points.length) / squares);
  if (!Number.isFinite(scale)) throw new RangeError("points that are all one can't be normalised");
  return {
    points: points.map(([x, y]) => [(x - meanX) * scale, (y - meanY) * scale]),
    matrix: [scale, 0, -meanX * scale, 0, scale, -meanY * scale, 0, 0, 1],
    inverse: [1 / scale, 0, meanX, 0, 1 / scale, meanY, 0, 0, 1],
  };
}
