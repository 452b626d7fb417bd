// board: pairs of points → the turn, scale and shift that bring them together best.
import { Matrix, SingularValueDecomposition } from "ml-matrix";
import { type PlaneFit, planeFit, requirePairs } from "./plane-transform.js";
import type { Point } from "./polygon.js";

/** Fit a similarity that does not mirror to two or more pairs of points by least squares in the unit of `to`.
 *  Method: Umeyama 1991, IEEE TPAMI 13:376, eqs. 40–43 (equation numbers from memory).
 *  @throws RangeError for fewer than two pairs, lists of unequal length, or points that are all one. */
export function fitSimilarity(from: readonly Point[], to: readonly Point[]): PlaneFit {
  requirePairs(from, to, 2);
  const n = from.length;
  const [fromX, fromY] = meanPoint(from);
  const [toX, toY] = meanPoint(to);
  const covariance = Matrix.zeros(2, 2);
  let variance = 0;
  for (let i = 0; i < n; i++) {
    const x = from[i]![0] - fromX;
    const y = from[i]![1] - fromY;
    const u = to[i]![0] - toX;
    const v = to[i]![1] - toY;
    variance += (x * x + y * y) / n;
    covariance.set(0, 0, covariance.get(0, 0) + (u * x) / n);
    covariance.set(0, 1, covariance.get(0, 1) + (u * y) / n);
    covariance.set(1, 0, covariance.get(1, 0) + (v * x) / n);
    covariance.set(1, 1, covariance.get(1, 1) + (v * y) / n);
  }
  if (!(variance > 0)) throw new RangeError("points that are all one fix no similarity");
  const svd = new SingularValueDecomposition(covariance);
  const left = svd.leftSingularVectors;
  const right = svd.rightSingularVectors;
  const [large, small] = svd.diagonal as [number, number];
  // Keeps the turn from mirroring, also where a mirroring one would fit better.
  const sign = Math.sign(det2(left) * det2(right));
  const rotation = left.mmul(Matrix.diag([1, sign])).mmul(right.transpose());
  const scale = (large + sign * small) / variance;
  const a = scale * rotation.get(0, 0);
  const b = scale * rotation.get(0, 1);
  const c = scale * rotation.get(1, 0);
  const d = scale * rotation.get(1, 1);
  const matrix = [a, b, toX - a * fromX - b * fromY, c, d, toY - c * fromX - d * fromY, 0, 0, 1];
  return planeFit(matrix, from, to);
}

function det2(m: Matrix): number {
  return m.get(0, 0) * m.get(1, 1) - m.get(0, 1) * m.get(1, 0);
}

function meanPoint(points: readonly Point[]): Point {
  let x = 0;
  let y = 0;
  for (const point of points) {
    x += point[0] / points.length;
    y += point[1] / points.length;
  }
  return [x, y];
}
