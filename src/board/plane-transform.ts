// board: a 3×3 matrix of a plane transform and a point → the point's image, the inverse, the local stretch.
import type { Point } from "./polygon.js";

/** A plane transform in homogeneous coordinates: nine numbers, row by row. */
export type Matrix3 = readonly number[];

/** A transform fitted to pairs of points. */
export interface PlaneFit {
  /** From → to, 3×3 row by row, last element 1. */
  readonly matrix: Matrix3;
  /** Distance of each point's image from its partner, in the unit of `to`. */
  readonly residuals: readonly number[];
  /** Root mean square of the residuals. */
  readonly rmsResidual: number;
}

/** Map a point by a plane transform.
 *  @returns infinite or NaN coordinates on the horizon of the transform. */
export function applyHomography(matrix: Matrix3, point: Point): Point {
  const [x, y] = point;
  const w = horizonWeight(matrix, point);
  return [
    (matrix[0]! * x + matrix[1]! * y + matrix[2]!) / w,
    (matrix[3]! * x + matrix[4]! * y + matrix[5]!) / w,
  ];
}

/** Compute the third homogeneous coordinate of a point's image: 0 on the horizon, of one sign in front of it. */
export function horizonWeight(matrix: Matrix3, point: Point): number {
  return matrix[6]! * point[0] + matrix[7]! * point[1] + matrix[8]!;
}

/** Invert a plane transform, by its adjugate.
 *  @returns scaled so that its last element is 1; unscaled where that element is 0.
 *  @throws RangeError if the matrix is singular (a fault of the caller). */
export function invertHomography(matrix: Matrix3): Matrix3 {
  const [a, b, c, d, e, f, g, h, i] = matrix as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const adjugate = [
    e * i - f * h,
    c * h - b * i,
    b * f - c * e,
    f * g - d * i,
    a * i - c * g,
    c * d - a * f,
    d * h - e * g,
    b * g - a * h,
    a * e - b * d,
  ];
  const det = a * adjugate[0]! + b * adjugate[3]! + c * adjugate[6]!;
  if (det === 0 || !Number.isFinite(det)) throw new RangeError("a singular transform has no inverse");
  const last = adjugate[8]! === 0 ? det : adjugate[8]!;
  return adjugate.map((value) => value / last);
}

/** Compute the derivative of a plane transform at a point.
 *  @returns [∂x'/∂x, ∂x'/∂y, ∂y'/∂x, ∂y'/∂y]; its determinant is negative where the transform mirrors. */
export function jacobianAt(matrix: Matrix3, point: Point): readonly [number, number, number, number] {
  const [u, v] = applyHomography(matrix, point);
  const w = horizonWeight(matrix, point);
  return [
    (matrix[0]! - u * matrix[6]!) / w,
    (matrix[1]! - u * matrix[7]!) / w,
    (matrix[3]! - v * matrix[6]!) / w,
    (matrix[4]! - v * matrix[7]!) / w,
  ];
}

/** Multiply two 3×3 matrices: the transform `second` after `first`. */
export function composeHomographies(second: Matrix3, first: Matrix3): Matrix3 {
  const product = new Array<number>(9).fill(0);
  for (let row = 0; row < 3; row++) {
    for (let column = 0; column < 3; column++) {
      let sum = 0;
      for (let k = 0; k < 3; k++) sum += second[row * 3 + k]! * first[k * 3 + column]!;
      product[row * 3 + column] = sum;
    }
  }
  return product;
}

/** Make a fit's result: the residuals of a matrix over its pairs of points. */
export function planeFit(matrix: Matrix3, from: readonly Point[], to: readonly Point[]): PlaneFit {
  let sum = 0;
  const residuals = from.map((point, i) => {
    const image = applyHomography(matrix, point);
    const distance = Math.hypot(image[0] - to[i]![0], image[1] - to[i]![1]);
    sum += distance * distance;
    return distance;
  });
  return { matrix, residuals, rmsResidual: Math.sqrt(sum / from.length) };
}

/** Check that two lists pair up and are long enough for a fit.
 *  @throws RangeError otherwise (a fault of the caller). */
export function requirePairs(from: readonly Point[], to: readonly Point[], least: number): void {
  if (from.length !== to.length || from.length < least) {
    throw new RangeError(`a fit needs ${least} or more pairs of points, not ${from.length} and ${to.length}`);
  }
}
