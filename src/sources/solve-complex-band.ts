// sources: banded symmetric matrix with a complex diagonal → its factor, and with it the solution for any real right
// side.

/** A complex number for each unknown. */
export interface ComplexNumbers {
  readonly real: Float64Array;
  readonly imaginary: Float64Array;
}

/** Replace a complex symmetric band matrix A = B + i·C by its factor L with L·Lᵀ = A (no conjugates), L's diagonal
 *  inverted. B positive semi-definite, C definite: no pivots are needed.
 *  @param a lower triangle by rows, laid out as `factorBand` has it; both parts. In place.
 *  @param n rows. @param band how far from the diagonal elements may differ from 0.
 */
export function factorComplexBand({ real, imaginary }: ComplexNumbers, n: number, band: number): void {
  for (let i = 0; i < n; i++) {
    const row = i * band + band;
    const first = Math.max(0, i - band);
    for (let j = first; j <= i; j++) {
      const other = j * band + band;
      let re = real[row + j]!;
      let im = imaginary[row + j]!;
      for (let k = first; k < j; k++) {
        const [a, b, c, d] = [real[row + k]!, imaginary[row + k]!, real[other + k]!, imaginary[other + k]!];
        re -= a * c - b * d;
        im -= a * d + b * c;
      }
      // An element left of the diagonal is divided by that of its column, which stands there inverted already.
      const [c, d] = i === j ? inverseRoot(re, im) : [real[other + j]!, imaginary[other + j]!];
      real[row + j] = i === j ? c : re * c - im * d;
      imaginary[row + j] = i === j ? d : re * d + im * c;
    }
  }
}

/** 1 ÷ √(re + i·im), the root with the positive real part. */
function inverseRoot(re: number, im: number): [number, number] {
  const size = Math.hypot(re, im);
  const root = Math.sqrt((size + re) / 2);
  return [root / size, -im / (2 * root * size)];
}

/** Solve with a factor of `factorComplexBand`.
 *  @param b right side, real, n numbers; not modified.
 */
export function solveComplexBand(
  { real, imaginary }: ComplexNumbers,
  n: number,
  band: number,
  b: Float64Array,
): ComplexNumbers {
  const x = b.slice();
  const y = new Float64Array(n);
  const divide = (i: number, re: number, im: number): void => {
    const [c, d] = [real[i * band + band + i]!, imaginary[i * band + band + i]!];
    x[i] = re * c - im * d;
    y[i] = re * d + im * c;
  };
  let begin = 0;
  // Before the first heat all is 0.
  while (begin < n && x[begin] === 0) begin++;
  for (let i = begin; i < n; i++) {
    const row = i * band + band;
    let [re, im] = [x[i]!, y[i]!];
    for (let k = Math.max(begin, i - band); k < i; k++) {
      const [a, c] = [real[row + k]!, imaginary[row + k]!];
      re -= a * x[k]! - c * y[k]!;
      im -= a * y[k]! + c * x[k]!;
    }
    divide(i, re, im);
  }
  for (let i = n - 1; i >= 0; i--) {
    const row = i * band + band;
    divide(i, x[i]!, y[i]!);
    const [re, im] = [x[i]!, y[i]!];
    for (let k = Math.max(0, i - band); k < i; k++) {
      const [a, c] = [real[row + k]!, imaginary[row + k]!];
      x[k]! -= a * re - c * im;
      y[k]! -= a * im + c * re;
    }
  }
  return { real: x, imaginary: y };
}
