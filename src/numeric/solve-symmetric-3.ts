// numeric: a symmetric positive 3×3 system → its solution.

/** Solve A·x = b for a symmetric positive definite 3×3 matrix (row-major) by Cholesky's method.
 *  A matrix that is not positive definite gives NaN in every element.
 */
export function solveSymmetric3(a: Float64Array, b: Float64Array): [number, number, number] {
  const l00 = Math.sqrt(a[0]!);
  const l10 = a[3]! / l00;
  const l20 = a[6]! / l00;
  const l11 = Math.sqrt(a[4]! - l10 * l10);
  const l21 = (a[7]! - l20 * l10) / l11;
  const l22 = Math.sqrt(a[8]! - l20 * l20 - l21 * l21);
  const y0 = b[0]! / l00;
  const y1 = (b[1]! - l10 * y0) / l11;
  const y2 = (b[2]! - l20 * y0 - l21 * y1) / l22;
  const x2 = y2 / l22;
  const x1 = (y1 - l21 * x2) / l11;
  const x0 = (y0 - l10 * x1 - l20 * x2) / l00;
  const sum = x0 + x1 + x2;
  return sum * 0 === 0 ? [x0, x1, x2] : [Number.NaN, Number.NaN, Number.NaN];
}
