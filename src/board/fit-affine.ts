// board: pairs of points → the affine transform that brings them together best.
import { Matrix, QrDecomposition } from "ml-matrix";
import { normalisePoints } from "./normalise-points.js";
import { composeHomographies, type PlaneFit, planeFit, requirePairs } from "./plane-transform.js";
import type { Point } from "./polygon.js";

/** Fit an affine transform to three or more pairs of points by least squares in the unit of `to`; exact for three.
 *  Method: linear least squares by QR on normalised `from`.
 *  @throws RangeError for fewer than three pairs, lists of unequal length, or points on one line. */
export function fitAffine(from: readonly Point[], to: readonly Point[]): PlaneFit {
  requirePairs(from, to, 3);
  const { points, matrix: normalise } = normalisePoints(from);
  const design = new Matrix(points.map(([x, y]) => [x, y, 1]));
  const qr = new QrDecomposition(design);
  if (!qr.isFullRank() || Math.abs(qr.upperTriangularMatrix.get(1, 1)) < 1e-10) {
    throw new RangeError("points on one line fix no affine transform");
  }
  const solution = qr.solve(new Matrix(to.map(([x, y]) => [x, y])));
  const column = (k: number) => [solution.get(0, k), solution.get(1, k), solution.get(2, k)];
  const matrix = composeHomographies([...column(0), ...column(1), 0, 0, 1], normalise);
  return planeFit(matrix, from, to);
}
