// board: four or more pairs of points → the homography that brings them together best.
import { Matrix, QrDecomposition, SingularValueDecomposition } from "ml-matrix";
import { normalisePoints } from "./normalise-points.js";
import {
  applyHomography,
  composeHomographies,
  horizonWeight,
  type Matrix3,
  type PlaneFit,
  planeFit,
  requirePairs,
} from "./plane-transform.js";
import type { Point } from "./polygon.js";

/** Steps of the refinement. It converges in three or four from the linear answer; twenty also serve a bad start. */
const MAX_STEPS = 20;

/** Fit a homography to four or more pairs of points: least squares of the distance in the unit of `to`.
 *  Method: direct linear transform on normalised points (Hartley & Zisserman, Multiple View Geometry, 2nd ed.,
 *  algorithm 4.2, from memory) by singular values, then Gauss–Newton steps on the distance, halved while they do
 *  not lessen it.
 *  @returns exact for four pairs of which no three lie on one line.
 *  @throws RangeError for fewer than four pairs, lists of unequal length, points that fix no homography, or a
 *  `from` origin on the horizon, which no matrix with a last element of 1 can say. */
export function fitHomography(from: readonly Point[], to: readonly Point[]): PlaneFit {
  requirePairs(from, to, 4);
  const source = normalisePoints(from);
  const target = normalisePoints(to);
  let normalised = linearAnswer(source.points, target.points);
  if (from.length > 4) normalised = refine(normalised, source.points, target.points);
  const matrix = composeHomographies(composeHomographies(target.inverse, normalised), source.matrix);
  const last = matrix[8]!;
  const largest = Math.max(...matrix.map(Math.abs));
  if (Math.abs(last) <= 1e-12 * largest) throw new RangeError("the origin lies on the homography's horizon");
  return planeFit(
    matrix.map((value) => value / last),
    from,
    to,
  );
}

function linearAnswer(from: readonly Point[], to: readonly Point[]): Matrix3 {
  // Nine rows at least, so that the decomposition also gives the vector of a missing ninth equation.
  const design = Matrix.zeros(Math.max(9, 2 * from.length), 9);
  for (let i = 0; i < from.length; i++) {
    const [x, y] = from[i]!;
    const [u, v] = to[i]!;
    design.setRow(2 * i, [x, y, 1, 0, 0, 0, -u * x, -u * y, -u]);
    design.setRow(2 * i + 1, [0, 0, 0, x, y, 1, -v * x, -v * y, -v]);
  }
  const svd = new SingularValueDecomposition(design, { computeLeftSingularVectors: false });
  // The second-smallest singular value of a sound problem is of order 1; at rounding level the answer is arbitrary.
  if (svd.diagonal[7]! < 1e-9 * svd.diagonal[0]!) throw new RangeError("the points fix no homography");
  return svd.rightSingularVectors.getColumn(8);
}

/** Gauss–Newton on the distance; the last element is held, which is not 0 for points about their mean. */
function refine(start: Matrix3, from: readonly Point[], to: readonly Point[]): Matrix3 {
  if (start[8] === 0) return start;
  let matrix = start.map((value) => value / start[8]!);
  let cost = squaredDistance(matrix, from, to);
  for (let step = 0; step < MAX_STEPS && cost > 0; step++) {
    const change = gaussNewtonStep(matrix, from, to);
    let share = 1;
    let next = add(matrix, change, share);
    let nextCost = squaredDistance(next, from, to);
    while (!(nextCost <= cost) && share > 1e-4) {
      share /= 2;
      next = add(matrix, change, share);
      nextCost = squaredDistance(next, from, to);
    }
    if (!(nextCost <= cost)) break;
    const gain = cost - nextCost;
    matrix = next;
    cost = nextCost;
    if (gain <= 1e-15 * cost) break;
  }
  return matrix;
}

function gaussNewtonStep(matrix: Matrix3, from: readonly Point[], to: readonly Point[]): number[] {
  const jacobian = Matrix.zeros(2 * from.length, 8);
  const misses = Matrix.zeros(2 * from.length, 1);
  for (let i = 0; i < from.length; i++) {
    const [x, y] = from[i]!;
    const [u, v] = applyHomography(matrix, from[i]!);
    const w = horizonWeight(matrix, from[i]!);
    jacobian.setRow(2 * i, [x / w, y / w, 1 / w, 0, 0, 0, (-u * x) / w, (-u * y) / w]);
    jacobian.setRow(2 * i + 1, [0, 0, 0, x / w, y / w, 1 / w, (-v * x) / w, (-v * y) / w]);
    misses.set(2 * i, 0, to[i]![0] - u);
    misses.set(2 * i + 1, 0, to[i]![1] - v);
  }
  const qr = new QrDecomposition(jacobian);
  return qr.isFullRank() ? qr.solve(misses).getColumn(0) : new Array<number>(8).fill(0);
}

function add(matrix: Matrix3, change: readonly number[], share: number): number[] {
  return matrix.map((value, k) => (k < 8 ? value + share * change[k]! : value));
}

function squaredDistance(matrix: Matrix3, from: readonly Point[], to: readonly Point[]): number {
  let sum = 0;
  for (let i = 0; i < from.length; i++) {
    const [u, v] = applyHomography(matrix, from[i]!);
    sum += (u - to[i]![0]) ** 2 + (v - to[i]![1]) ** 2;
  }
  return sum;
}
