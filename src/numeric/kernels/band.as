// kernels: banded symmetric matrix → its Cholesky factor, and with it the solutions for four right sides at once.
// Element (i, j) stands at number i·band + band + j of the array, as in solve-band.ts. Every sum adds in the order of the
// plain loops there, so that results are theirs to the last bit; lanes are right sides, or columns of one row.

/** Replace a positive definite band matrix by its Cholesky factor.
 *  Each row's elements are brought up to date as soon as the pivots before them are known, in the order of the pivots; two
 *  pivots at a time, so that each element is read and written half as often.
 *  @param column scratch for twice the band.
 */
export function factorBand(a: usize, n: i32, band: i32, column: usize): void {
  const step = <usize>band << 3;
  const second = column + step;
  for (let k = 0; k < n; k += 2) {
    const pivot = a + (<usize>(k * band + band + k) << 3);
    const root = Math.sqrt(load<f64>(pivot));
    store<f64>(pivot, root);
    const below = min(n - 1 - k, band);
    let element = pivot;
    for (let t = 0; t < below; t++) {
      element += step;
      const value = load<f64>(element) / root;
      store<f64>(element, value);
      store<f64>(column + (<usize>t << 3), value);
    }
    if (k + 1 === n) return;
    const pivot1 = pivot + step + 8;
    const first = load<f64>(column);
    const root1 = Math.sqrt(load<f64>(pivot1) - first * first);
    store<f64>(pivot1, root1);
    const below1 = min(n - 2 - k, band);
    element = pivot1;
    for (let t = 0; t < below1; t++) {
      element += step;
      let value = load<f64>(element);
      if (t + 1 < below) value -= load<f64>(column + (<usize>(t + 1) << 3)) * first;
      value /= root1;
      store<f64>(element, value);
      store<f64>(second + (<usize>t << 3), value);
    }
    element = pivot1;
    for (let t = 0; t < below1; t++) {
      element += step;
      const value1 = load<f64>(second + (<usize>t << 3));
      // The first of the two does not reach the last row.
      if (t + 1 < below) {
        takeTwo(element + 8, t + 1, load<f64>(column + (<usize>(t + 1) << 3)), column + 8, value1, second);
      } else takeOne(element + 8, t + 1, value1, second);
    }
  }
}

/** Take multiples of two columns off some numbers, one after the other. */
@inline
function takeTwo(at: usize, count: i32, value: f64, from: usize, value1: f64, from1: usize): void {
  const values = f64x2.splat(value);
  const values1 = f64x2.splat(value1);
  const end = at + (<usize>count << 3);
  while (at + 32 <= end) {
    const low = f64x2.sub(v128.load(at), f64x2.mul(values, v128.load(from)));
    const high = f64x2.sub(v128.load(at, 16), f64x2.mul(values, v128.load(from, 16)));
    v128.store(at, f64x2.sub(low, f64x2.mul(values1, v128.load(from1))));
    v128.store(at, f64x2.sub(high, f64x2.mul(values1, v128.load(from1, 16))), 16);
    at += 32;
    from += 32;
    from1 += 32;
  }
  while (at < end) {
    store<f64>(at, load<f64>(at) - value * load<f64>(from) - value1 * load<f64>(from1));
    at += 8;
    from += 8;
    from1 += 8;
  }
}

@inline
function takeOne(at: usize, count: i32, value: f64, from: usize): void {
  for (const end = at + (<usize>count << 3); at < end; at += 8) {
    store<f64>(at, load<f64>(at) - value * load<f64>(from));
    from += 8;
  }
}

/** Solve with a factor for four right sides that lie side by side: number r of row i at 4·i + r. In place. */
export function solveBand(a: usize, n: i32, band: i32, x: usize): void {
  const whole = n & ~1;
  let i = firstRow(x, whole);
  for (; i < whole; i += 2) twoForward(a, i, band, x);
  if (i < n) oneForward(a, i, band, x);
  i = n;
  if (whole < n) oneBackward(a, --i, band, x);
  for (i -= 2; i >= 0; i -= 2) twoBackward(a, i, band, x);
}

/** First pair of rows with a number other than 0: before it, all is 0. */
function firstRow(x: usize, whole: i32): i32 {
  for (let i = 0; i < whole; i += 2) {
    const at = x + (<usize>i << 5);
    const some = v128.or(
      v128.or(v128.load(at), v128.load(at, 16)),
      v128.or(v128.load(at, 32), v128.load(at, 48)),
    );
    if (v128.any_true(some)) return i;
  }
  return whole;
}

function twoForward(a: usize, i: i32, band: i32, x: usize): void {
  let k = max(0, i - band);
  const shared = max(0, i + 1 - band);
  let r0 = a + (<usize>(i * band + band + k) << 3);
  let r1 = r0 + (<usize>band << 3);
  let at = x + (<usize>k << 5);
  const row = x + (<usize>i << 5);
  let s0 = v128.load(row);
  let t0 = v128.load(row, 16);
  let s1 = v128.load(row, 32);
  let t1 = v128.load(row, 48);
  if (k < shared) {
    const v = v128.load64_splat(r0);
    s0 = f64x2.sub(s0, f64x2.mul(v, v128.load(at)));
    t0 = f64x2.sub(t0, f64x2.mul(v, v128.load(at, 16)));
    r0 += 8;
    r1 += 8;
    at += 32;
  }
  for (; at < row; at += 32) {
    const u = v128.load(at);
    const w = v128.load(at, 16);
    const v0 = v128.load64_splat(r0);
    const v1 = v128.load64_splat(r1);
    s0 = f64x2.sub(s0, f64x2.mul(v0, u));
    t0 = f64x2.sub(t0, f64x2.mul(v0, w));
    s1 = f64x2.sub(s1, f64x2.mul(v1, u));
    t1 = f64x2.sub(t1, f64x2.mul(v1, w));
    r0 += 8;
    r1 += 8;
  }
  const d0 = v128.load64_splat(r0);
  s0 = f64x2.div(s0, d0);
  t0 = f64x2.div(t0, d0);
  v128.store(row, s0);
  v128.store(row, t0, 16);
  const v1 = v128.load64_splat(r1);
  const d1 = v128.load64_splat(r1, 8);
  v128.store(row, f64x2.div(f64x2.sub(s1, f64x2.mul(v1, s0)), d1), 32);
  v128.store(row, f64x2.div(f64x2.sub(t1, f64x2.mul(v1, t0)), d1), 48);
}

function oneForward(a: usize, i: i32, band: i32, x: usize): void {
  const k = max(0, i - band);
  let r = a + (<usize>(i * band + band + k) << 3);
  const row = x + (<usize>i << 5);
  let s = v128.load(row);
  let t = v128.load(row, 16);
  for (let at = x + (<usize>k << 5); at < row; at += 32) {
    const v = v128.load64_splat(r);
    s = f64x2.sub(s, f64x2.mul(v, v128.load(at)));
    t = f64x2.sub(t, f64x2.mul(v, v128.load(at, 16)));
    r += 8;
  }
  const d = v128.load64_splat(r);
  v128.store(row, f64x2.div(s, d));
  v128.store(row, f64x2.div(t, d), 16);
}

function oneBackward(a: usize, i: i32, band: i32, x: usize): void {
  const k = max(0, i - band);
  const row = x + (<usize>i << 5);
  const d = v128.load64_splat(a + (<usize>(i * band + band + i) << 3));
  const s = f64x2.div(v128.load(row), d);
  const t = f64x2.div(v128.load(row, 16), d);
  v128.store(row, s);
  v128.store(row, t, 16);
  let r = a + (<usize>(i * band + band + k) << 3);
  for (let at = x + (<usize>k << 5); at < row; at += 32) {
    const v = v128.load64_splat(r);
    v128.store(at, f64x2.sub(v128.load(at), f64x2.mul(v, s)));
    v128.store(at, f64x2.sub(v128.load(at, 16), f64x2.mul(v, t)), 16);
    r += 8;
  }
}

/** Rows i + 1 and i. */
function twoBackward(a: usize, i: i32, band: i32, x: usize): void {
  let k = max(0, i - band);
  const shared = max(0, i + 1 - band);
  const diagonal = a + (<usize>(i * band + band + i) << 3);
  const below = diagonal + (<usize>band << 3);
  const row = x + (<usize>i << 5);
  const d1 = v128.load64_splat(below, 8);
  const s1 = f64x2.div(v128.load(row, 32), d1);
  const t1 = f64x2.div(v128.load(row, 48), d1);
  v128.store(row, s1, 32);
  v128.store(row, t1, 48);
  const v = v128.load64_splat(below);
  const d0 = v128.load64_splat(diagonal);
  const s0 = f64x2.div(f64x2.sub(v128.load(row), f64x2.mul(v, s1)), d0);
  const t0 = f64x2.div(f64x2.sub(v128.load(row, 16), f64x2.mul(v, t1)), d0);
  v128.store(row, s0);
  v128.store(row, t0, 16);
  let r0 = a + (<usize>(i * band + band + k) << 3);
  let at = x + (<usize>k << 5);
  if (k < shared) {
    const v0 = v128.load64_splat(r0);
    v128.store(at, f64x2.sub(v128.load(at), f64x2.mul(v0, s0)));
    v128.store(at, f64x2.sub(v128.load(at, 16), f64x2.mul(v0, t0)), 16);
    r0 += 8;
    at += 32;
  }
  let r1 = r0 + (<usize>band << 3);
  for (; at < row; at += 32) {
    const v0 = v128.load64_splat(r0);
    const v1 = v128.load64_splat(r1);
    const u = f64x2.sub(v128.load(at), f64x2.mul(v1, s1));
    const w = f64x2.sub(v128.load(at, 16), f64x2.mul(v1, t1));
    v128.store(at, f64x2.sub(u, f64x2.mul(v0, s0)));
    v128.store(at, f64x2.sub(w, f64x2.mul(v0, t0)), 16);
    r0 += 8;
    r1 += 8;
  }
}

/** Multiply numbers by one. @param count even. */
export function scale(x: usize, count: i32, by: f64): void {
  const factor = f64x2.splat(by);
  const end = x + (<usize>count << 3);
  for (let at = x; at < end; at += 16) v128.store(at, f64x2.mul(factor, v128.load(at)));
}

/** What a camera shows of four rises on the plate: read between four cells, weakened by the finish.
 *  @param pixels i32, where each pixel that sees the board stands in a picture of `out`; `count` of them.
 *  @param cells four numbers of cells per pixel seen; where there is none, any cell with the weight 0.
 *  @param weights four per pixel seen, f32. @param shown one per pixel seen, f32.
 *  @param x rises side by side, four per cell. @param out four pictures of `size` f32 one after the other.
 */
export function showFour(
  pixels: usize,
  count: i32,
  cells: usize,
  weights: usize,
  shown: usize,
  x: usize,
  out: usize,
  size: i32,
): void {
  const step = <usize>size << 2;
  for (let k = 0; k < count; k++) {
    let s = f64x2.splat(0);
    let t = f64x2.splat(0);
    for (let e = 0; e < 16; e += 4) {
      const weight = f64x2.splat(<f64>load<f32>(weights + e));
      const at = x + (<usize>load<i32>(cells + e) << 5);
      s = f64x2.add(s, f64x2.mul(weight, v128.load(at)));
      t = f64x2.add(t, f64x2.mul(weight, v128.load(at, 16)));
    }
    const finish = f64x2.splat(<f64>load<f32>(shown));
    s = f64x2.mul(s, finish);
    t = f64x2.mul(t, finish);
    const to = out + (<usize>load<i32>(pixels) << 2);
    store<f32>(to, <f32>f64x2.extract_lane(s, 0));
    store<f32>(to + step, <f32>f64x2.extract_lane(s, 1));
    store<f32>(to + 2 * step, <f32>f64x2.extract_lane(t, 0));
    store<f32>(to + 3 * step, <f32>f64x2.extract_lane(t, 1));
    pixels += 4;
    cells += 16;
    weights += 16;
    shown += 4;
  }
}
