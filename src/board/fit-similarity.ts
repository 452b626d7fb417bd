// board: pairs of points → the turn, scale and shift that bring them together best.
import { Matrix, SingularValueDecomposition } from "ml-matrix";
import { type PlaneFit, planeFit, requirePairs } from "./plane-transform.js";
import type { Point } from "./polygon.js";

/** A similarity and what it is made of. */
export interface SimilarityFit extends PlaneFit {
  readonly scale: number;
  /** True if the transform mirrors. */
  readonly mirrored: boolean;
}

/** Fit a similarity to two or more pairs of points by least squares in the unit of `to`.
 *  Method: Umeyama 1991, IEEE TPAMI 13:376, eqs. 40–43 (equation numbers from memory).
 *  @param options.allowReflection take a mirroring transform where it fits better; default false. Two points fit
 *  both ways, then the one that does not mirror is taken.
 *  @throws RangeError for fewer than two pairs, lists of unequal length, or points that are all one. */
export function fitSimilarity(
  from: readonly Point[],
  to: readonly Point[],
  options: { allowReflection?: boolean } = {},
): SimilarityFit {
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
  const handedness = Math.sign(det2(left) * det2(right));
  // A second singular value at the level of rounding says that all points lie on one line: no hand is better.
  const eitherHand = small <= 1e-12 * large;
  const sign = options.allowReflection === true && !eitherHand ? 1 : handedness;
  const rotation = left.mmul(Matrix.diag([1, sign])).mmul(right.transpose());
  const scale = (large + sign * small) / variance;
  const a = scale * rotation.get(0, 0);
  const b = scale * rotation.get(0, 1);
  const c = scale * rotation.get(1, 0);
  const d = scale * rotation.get(1, 1);
  const matrix = [a, b, toX - a * fromX - b * fromY, c, d, toY - c * fromX - d * fromY, 0, 0, 1];
  return { ...planeFit(matrix, from, to), scale, mirrored: a * d - b * c < 0 };
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
