// numeric: symmetric positive definite matrix → triangular factor, solutions, diagonal of the inverse.

/** Factor a symmetric matrix as L·Lᵀ.
 *  @param matrix n×n row-major; only the lower triangle is read; not modified.
 *  @param ridge added to the diagonal, as a share of each diagonal element; default 0.
 *  @returns L, n×n row-major with zeros above the diagonal; null if the matrix is not positive definite, that is if
 *  less than 1e-13 of a diagonal element is left when the rows before it are taken out (rounding of the sum).
 *  @throws RangeError if the size does not fit (a fault of the caller).
 */
export function choleskyFactor(matrix: Float64Array, n: number, ridge = 0): Float64Array | null {
  if (matrix.length !== n * n) throw new RangeError(`${n}×${n} does not fit ${matrix.length} values`);
  const factor = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    const row = i * n;
    for (let j = 0; j <= i; j++) {
      const other = j * n;
      let sum = matrix[row + j]!;
      if (i === j) sum += ridge * sum;
      for (let k = 0; k < j; k++) sum -= factor[row + k]! * factor[other + k]!;
      if (i !== j) factor[row + j] = sum / factor[other + j]!;
      else if (sum > 1e-13 * matrix[row + i]!) factor[row + i] = Math.sqrt(sum);
      else return null;
    }
  }
  return factor;
}

/** Solve L·Lᵀ·x = right.
 *  @param factor from `choleskyFactor`; `stride` is its row length where it is the corner of a larger one.
 *  @param right n values; not modified unless it is `out`.
 */
export function choleskySolve(
  factor: Float64Array,
  n: number,
  right: Float64Array,
  out: Float64Array = new Float64Array(n),
  stride: number = n,
): Float64Array {
  for (let i = 0; i < n; i++) {
    let sum = right[i]!;
    for (let k = 0; k < i; k++) sum -= factor[i * stride + k]! * out[k]!;
    out[i] = sum / factor[i * stride + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = out[i]!;
    for (let k = i + 1; k < n; k++) sum -= factor[k * stride + i]! * out[k]!;
    out[i] = sum / factor[i * stride + i]!;
  }
  return out;
}

/** Give the diagonal of (L·Lᵀ)⁻¹: the variances, if the matrix was built from data weighted by 1/σ².
 *  Column by column of L⁻¹; the sum of squares of column i is element i.
 */
export function choleskyInverseDiagonal(factor: Float64Array, n: number, stride: number = n): Float64Array {
  const diagonal = new Float64Array(n);
  const column = new Float64Array(n);
  for (let j = 0; j < n; j++) {
    let square = 0;
    for (let i = j; i < n; i++) {
      let sum = i === j ? 1 : 0;
      for (let k = j; k < i; k++) sum -= factor[i * stride + k]! * column[k]!;
      const value = sum / factor[i * stride + i]!;
      column[i] = value;
      square += value * value;
    }
    diagonal[j] = square;
  }
  return diagonal;
}

/** Give (L·Lᵀ)⁻¹ in full, n×n row-major: covariances. */
export function choleskyInverse(factor: Float64Array, n: number): Float64Array {
  const inverse = new Float64Array(n * n);
  const unit = new Float64Array(n);
  const column = new Float64Array(n);
  for (let j = 0; j < n; j++) {
    unit.fill(0);
    unit[j] = 1;
    choleskySolve(factor, n, unit, column);
    for (let i = 0; i < n; i++) inverse[i * n + j] = column[i]!;
  }
  return inverse;
}
