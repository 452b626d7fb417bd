// sources: banded symmetric matrix → its Cholesky factor, and with it the solution for any right side.
// Four rows at a time: each number of the factor and of the solution is read once for four sums that need not wait for
// each other. Every sum adds in the order of the plain loops, so that the results are theirs to the last bit.

/** Replace a positive definite band matrix by its Cholesky factor.
 *  @param a lower triangle by rows: element (i, j) at i·(band + 1) + band − (i − j), zeros where j would be negative.
 *  @param n rows. @param band how far from the diagonal elements may differ from 0.
 */
export function factorBand(a: Float64Array, n: number, band: number): void {
  for (let i = 0; i < n; i++) factorRow(a, i, band);
}

/** Solve with a factor of `factorBand`.
 *  @param b right side, n numbers; not modified.
 */
export function solveBand(a: Float64Array, n: number, band: number, b: Float64Array): Float64Array {
  const x = b.slice();
  const whole = band < 3 ? 0 : n - (n % 4);
  let i = 0;
  // Before the first heat all is 0.
  while (i < whole && x[i] === 0 && x[i + 1] === 0 && x[i + 2] === 0 && x[i + 3] === 0) i += 4;
  for (; i < whole; i += 4) fourForward(a, i, band, x);
  for (; i < n; i++) oneForward(a, i, band, x);
  for (i = n - 1; i >= whole; i--) oneBackward(a, i, band, x);
  for (i = whole - 4; i >= 0; i -= 4) fourBackward(a, i, band, x);
  return x;
}

// In all of these element (i, j) stands at `row of i` + j, with row = i·band + band.

function factorRow(a: Float64Array, i: number, band: number): void {
  const row = i * band + band;
  const first = Math.max(0, i - band);
  let j = first;
  for (; j + 4 <= i; j += 4) {
    const r0 = j * band + band;
    const r1 = r0 + band;
    const r2 = r1 + band;
    const r3 = r2 + band;
    let s0 = a[row + j]!;
    let s1 = a[row + j + 1]!;
    let s2 = a[row + j + 2]!;
    let s3 = a[row + j + 3]!;
    for (let k = first; k < j; k++) {
      const v = a[row + k]!;
      s0 -= v * a[r0 + k]!;
      s1 -= v * a[r1 + k]!;
      s2 -= v * a[r2 + k]!;
      s3 -= v * a[r3 + k]!;
    }
    const v0 = s0 / a[r0 + j]!;
    const v1 = (s1 - v0 * a[r1 + j]!) / a[r1 + j + 1]!;
    const v2 = (s2 - v0 * a[r2 + j]! - v1 * a[r2 + j + 1]!) / a[r2 + j + 2]!;
    a[row + j] = v0;
    a[row + j + 1] = v1;
    a[row + j + 2] = v2;
    a[row + j + 3] = (s3 - v0 * a[r3 + j]! - v1 * a[r3 + j + 1]! - v2 * a[r3 + j + 2]!) / a[r3 + j + 3]!;
  }
  for (; j <= i; j++) {
    const other = j * band + band;
    let sum = a[row + j]!;
    for (let k = first; k < j; k++) sum -= a[row + k]! * a[other + k]!;
    a[row + j] = i === j ? Math.sqrt(sum) : sum / a[other + j]!;
  }
}

function oneForward(a: Float64Array, i: number, band: number, x: Float64Array): void {
  const row = i * band + band;
  let sum = x[i]!;
  for (let k = Math.max(0, i - band); k < i; k++) sum -= a[row + k]! * x[k]!;
  x[i] = sum / a[row + i]!;
}

function oneBackward(a: Float64Array, i: number, band: number, x: Float64Array): void {
  const row = i * band + band;
  const value = x[i]! / a[row + i]!;
  x[i] = value;
  for (let k = Math.max(0, i - band); k < i; k++) x[k]! -= a[row + k]! * value;
}

/** Rows i to i + 3. The first of them reaches three columns further back than the last. */
function fourForward(a: Float64Array, i: number, band: number, x: Float64Array): void {
  const r0 = i * band + band;
  const r1 = r0 + band;
  const r2 = r1 + band;
  const r3 = r2 + band;
  const shared = Math.max(0, i + 3 - band);
  let s0 = x[i]!;
  let s1 = x[i + 1]!;
  let s2 = x[i + 2]!;
  let s3 = x[i + 3]!;
  for (let k = Math.max(0, i - band); k < shared; k++) {
    const v = x[k]!;
    s0 -= a[r0 + k]! * v;
    if (k > i - band) s1 -= a[r1 + k]! * v;
    if (k > i + 1 - band) s2 -= a[r2 + k]! * v;
  }
  for (let k = shared; k < i; k++) {
    const v = x[k]!;
    s0 -= a[r0 + k]! * v;
    s1 -= a[r1 + k]! * v;
    s2 -= a[r2 + k]! * v;
    s3 -= a[r3 + k]! * v;
  }
  const v0 = s0 / a[r0 + i]!;
  const v1 = (s1 - a[r1 + i]! * v0) / a[r1 + i + 1]!;
  const v2 = (s2 - a[r2 + i]! * v0 - a[r2 + i + 1]! * v1) / a[r2 + i + 2]!;
  x[i] = v0;
  x[i + 1] = v1;
  x[i + 2] = v2;
  x[i + 3] = (s3 - a[r3 + i]! * v0 - a[r3 + i + 1]! * v1 - a[r3 + i + 2]! * v2) / a[r3 + i + 3]!;
}

/** Rows i + 3 down to i. */
function fourBackward(a: Float64Array, i: number, band: number, x: Float64Array): void {
  const r0 = i * band + band;
  const r1 = r0 + band;
  const r2 = r1 + band;
  const r3 = r2 + band;
  const shared = Math.max(0, i + 3 - band);
  const v3 = x[i + 3]! / a[r3 + i + 3]!;
  const v2 = (x[i + 2]! - a[r3 + i + 2]! * v3) / a[r2 + i + 2]!;
  const v1 = (x[i + 1]! - a[r3 + i + 1]! * v3 - a[r2 + i + 1]! * v2) / a[r1 + i + 1]!;
  const v0 = (x[i]! - a[r3 + i]! * v3 - a[r2 + i]! * v2 - a[r1 + i]! * v1) / a[r0 + i]!;
  x[i] = v0;
  x[i + 1] = v1;
  x[i + 2] = v2;
  x[i + 3] = v3;
  for (let k = shared; k < i; k++) {
    x[k] = x[k]! - a[r3 + k]! * v3 - a[r2 + k]! * v2 - a[r1 + k]! * v1 - a[r0 + k]! * v0;
  }
  for (let k = Math.max(0, i - band); k < shared; k++) {
    let value = x[k]!;
    if (k > i + 1 - band) value -= a[r2 + k]! * v2;
    if (k > i - band) value -= a[r1 + k]! * v1;
    x[k] = value - a[r0 + k]! * v0;
  }
}
