// kernels: columns of pixels → their products with each other. As in column.ts, column-products.ts and smallest-powers.ts.

/** Add to the products of two lists of columns what a stretch of pixels gives.
 *  Each product has four running sums, for pixels 0, 1, 2 and 3 of every four, as in column.ts; they stand side by side at
 *  4·(i·countB + j) of `sums`.
 *  @param a columns of f32, `strideA` bytes apart. @param n pixels of the stretch, a multiple of 4.
 */
export function addProducts(
  a: usize,
  strideA: i32,
  countA: i32,
  b: usize,
  strideB: i32,
  countB: i32,
  n: i32,
  sums: usize,
): void {
  for (let i = 0; i < countA; i += 2) {
    const a0 = a + i * strideA;
    const two = i + 1 < countA;
    const a1 = two ? a0 + strideA : a0;
    let to0 = sums + ((i * countB) << 5);
    const apart = two ? <usize>countB << 5 : 0;
    for (let j = 0; j < countB; j += 2) {
      const b0 = b + j * strideB;
      if (j + 1 < countB) {
        // A missing second row repeats the first, and what it gives is written first and then written over.
        fourProducts(a1, a0, b0, b0 + strideB, n, to0 + apart, to0);
      } else {
        twoProducts(a1, a0, b0, n, to0 + apart, to0);
      }
      to0 += 64;
    }
  }
}

@inline
function fourProducts(p: usize, q: usize, b0: usize, b1: usize, n: i32, toP: usize, toQ: usize): void {
  let p0 = v128.load(toP);
  let p0h = v128.load(toP, 16);
  let p1 = v128.load(toP, 32);
  let p1h = v128.load(toP, 48);
  let q0 = v128.load(toQ);
  let q0h = v128.load(toQ, 16);
  let q1 = v128.load(toQ, 32);
  let q1h = v128.load(toQ, 48);
  const end = p + (<usize>n << 2);
  for (; p < end; p += 16) {
    const u = f64x2.promote_low_f32x4(v128.load64_zero(p));
    const uh = f64x2.promote_low_f32x4(v128.load64_zero(p, 8));
    const v = f64x2.promote_low_f32x4(v128.load64_zero(q));
    const vh = f64x2.promote_low_f32x4(v128.load64_zero(q, 8));
    const w = f64x2.promote_low_f32x4(v128.load64_zero(b0));
    const wh = f64x2.promote_low_f32x4(v128.load64_zero(b0, 8));
    p0 = f64x2.add(p0, f64x2.mul(u, w));
    p0h = f64x2.add(p0h, f64x2.mul(uh, wh));
    q0 = f64x2.add(q0, f64x2.mul(v, w));
    q0h = f64x2.add(q0h, f64x2.mul(vh, wh));
    const z = f64x2.promote_low_f32x4(v128.load64_zero(b1));
    const zh = f64x2.promote_low_f32x4(v128.load64_zero(b1, 8));
    p1 = f64x2.add(p1, f64x2.mul(u, z));
    p1h = f64x2.add(p1h, f64x2.mul(uh, zh));
    q1 = f64x2.add(q1, f64x2.mul(v, z));
    q1h = f64x2.add(q1h, f64x2.mul(vh, zh));
    q += 16;
    b0 += 16;
    b1 += 16;
  }
  v128.store(toP, p0);
  v128.store(toP, p0h, 16);
  v128.store(toP, p1, 32);
  v128.store(toP, p1h, 48);
  v128.store(toQ, q0);
  v128.store(toQ, q0h, 16);
  v128.store(toQ, q1, 32);
  v128.store(toQ, q1h, 48);
}

/** Add to the products of columns with themselves what a stretch of pixels gives; sums as above, one column after the other. */
export function addSquares(a: usize, stride: i32, count: i32, n: i32, sums: usize): void {
  for (let i = 0; i < count; i++) {
    let s = v128.load(sums);
    let sh = v128.load(sums, 16);
    const end = a + (<usize>n << 2);
    for (let p = a; p < end; p += 16) {
      const u = f64x2.promote_low_f32x4(v128.load64_zero(p));
      const uh = f64x2.promote_low_f32x4(v128.load64_zero(p, 8));
      s = f64x2.add(s, f64x2.mul(u, u));
      sh = f64x2.add(sh, f64x2.mul(uh, uh));
    }
    v128.store(sums, s);
    v128.store(sums, sh, 16);
    sums += 32;
    a += stride;
  }
}

@inline
function twoProducts(p: usize, q: usize, b0: usize, n: i32, toP: usize, toQ: usize): void {
  let p0 = v128.load(toP);
  let p0h = v128.load(toP, 16);
  let q0 = v128.load(toQ);
  let q0h = v128.load(toQ, 16);
  const end = p + (<usize>n << 2);
  for (; p < end; p += 16) {
    const w = f64x2.promote_low_f32x4(v128.load64_zero(b0));
    const wh = f64x2.promote_low_f32x4(v128.load64_zero(b0, 8));
    p0 = f64x2.add(p0, f64x2.mul(f64x2.promote_low_f32x4(v128.load64_zero(p)), w));
    p0h = f64x2.add(p0h, f64x2.mul(f64x2.promote_low_f32x4(v128.load64_zero(p, 8)), wh));
    q0 = f64x2.add(q0, f64x2.mul(f64x2.promote_low_f32x4(v128.load64_zero(q)), w));
    q0h = f64x2.add(q0h, f64x2.mul(f64x2.promote_low_f32x4(v128.load64_zero(q, 8)), wh));
    q += 16;
    b0 += 16;
  }
  v128.store(toP, p0);
  v128.store(toP, p0h, 16);
  v128.store(toQ, q0);
  v128.store(toQ, q0h, 16);
}

/** A column → its numbers at the pixels that take part, ÷ noise. A quotient of two numbers of f32 is rounded once, whatever it was
 *  computed in.
 *  @param values f32. @param pixels i32, where the number of each pixel that takes part stands. @param sigma @param out f32, `count`.
 */
export function whiten(values: usize, pixels: usize, sigma: usize, count: i32, out: usize): void {
  let k = 0;
  for (; k + 4 <= count; k += 4) {
    let four = v128.load32_zero(values + (<usize>load<i32>(pixels) << 2));
    four = v128.load32_lane(values + (<usize>load<i32>(pixels, 4) << 2), four, 1);
    four = v128.load32_lane(values + (<usize>load<i32>(pixels, 8) << 2), four, 2);
    four = v128.load32_lane(values + (<usize>load<i32>(pixels, 12) << 2), four, 3);
    v128.store(out, f32x4.div(four, v128.load(sigma)));
    pixels += 16;
    sigma += 16;
    out += 16;
  }
  for (; k < count; k++) {
    store<f32>(out, load<f32>(values + (<usize>load<i32>(pixels) << 2)) / load<f32>(sigma));
    pixels += 4;
    sigma += 4;
    out += 4;
  }
}

/** Add multiples of columns to a picture, one column after the other; each sum is rounded to f32, as a picture holds it.
 *  @param left f32, n numbers. @param rows columns of f32, `stride` bytes apart. @param amounts f64, one per column.
 */
export function addColumns(left: usize, rows: usize, stride: i32, count: i32, amounts: usize, n: i32): void {
  const end = left + (<usize>n << 2);
  // By pieces of 4096 bytes, so that what is added to stays in the nearest cache from column to column.
  let from = rows;
  for (let tile = left; tile < end; tile += 4096) {
    const tileEnd = min(end, tile + 4096);
    for (let k = 0; k < count; k++) {
      addColumn(tile, tileEnd, from + <usize>(k * stride), load<f64>(amounts + (<usize>k << 3)));
    }
    from += 4096;
  }
}

function addColumn(at: usize, end: usize, from: usize, amount: f64): void {
  const factor = f64x2.splat(amount);
  while (at + 16 <= end) {
    const low = f64x2.mul(factor, f64x2.promote_low_f32x4(v128.load64_zero(from)));
    const high = f64x2.mul(factor, f64x2.promote_low_f32x4(v128.load64_zero(from, 8)));
    const a = f64x2.add(f64x2.promote_low_f32x4(v128.load64_zero(at)), low);
    const b = f64x2.add(f64x2.promote_low_f32x4(v128.load64_zero(at, 8)), high);
    v128.store64_lane(at, f32x4.demote_f64x2_zero(a), 0);
    v128.store64_lane(at, f32x4.demote_f64x2_zero(b), 0, 8);
    at += 16;
    from += 16;
  }
  for (; at < end; at += 4) {
    store<f32>(at, <f32>(<f64>load<f32>(at) + amount * <f64>load<f32>(from)));
    from += 4;
  }
}

/** Least of heat ÷ column where the column is at more than half its peak, over the pixels with a variance above 0.
 *  @returns Infinity where there are none.
 */
export function leastRatio(heat: usize, column: usize, variance: usize, n: i32): f64 {
  const bytes = <usize>n << 2;
  const whole = bytes & ~15;
  const zero = f32x4.splat(0);
  let peaks = zero;
  for (let k: usize = 0; k < whole; k += 16) {
    const counts = f32x4.gt(v128.load(variance + k), zero);
    peaks = f32x4.pmax(peaks, v128.and(v128.load(column + k), counts));
  }
  let peak: f32 = 0;
  for (let k: usize = whole; k < bytes; k += 4) {
    const value = load<f32>(column + k);
    if (value > peak && load<f32>(variance + k) > 0) peak = value;
  }
  peak = larger(larger(peak, f32x4.extract_lane(peaks, 0)), f32x4.extract_lane(peaks, 1));
  peak = larger(larger(peak, f32x4.extract_lane(peaks, 2)), f32x4.extract_lane(peaks, 3));
  const half = 0.5 * <f64>peak;
  const halves = f32x4.splat(<f32>half);
  let least: f64 = Infinity;
  for (let k: usize = 0; k < bytes; k += 16) {
    // Few of the pixels are this warm. Half a number of f32 is one too, unless it is next to none.
    if (k < whole && !v128.any_true(f32x4.ge(v128.load(column + k), halves))) continue;
    const end = min(bytes, k + 16);
    for (let i = k; i < end; i += 4) {
      const value = <f64>load<f32>(column + i);
      if (value > half && load<f32>(variance + i) > 0) least = Math.min(least, <f64>load<f32>(heat + i) / value);
    }
  }
  return least;
}

@inline
function larger(a: f32, b: f32): f32 {
  return b > a ? b : a;
}

/** Products of a column that covers some pixels only with whole ones, each one running sum in the order of the pixels.
 *  @param at i32, places of its `n` numbers, f32 at `values`. @param rows columns of f32, `stride` bytes apart.
 *  @param out f64, one per row.
 */
export function sparseProducts(
  at: usize,
  values: usize,
  n: i32,
  rows: usize,
  stride: i32,
  count: i32,
  out: usize,
): void {
  const end = at + (<usize>n << 2);
  const toValue = values - at;
  let row = rows;
  let j = 0;
  // Four rows at a time: their sums need not wait for each other.
  for (; j + 4 <= count; j += 4) {
    const row1 = row + stride;
    const row2 = row1 + stride;
    const row3 = row2 + stride;
    let s0: f64 = 0;
    let s1: f64 = 0;
    let s2: f64 = 0;
    let s3: f64 = 0;
    for (let place = at; place < end; place += 4) {
      const value = <f64>load<f32>(place + toValue);
      const pixel = <usize>load<i32>(place) << 2;
      s0 += value * <f64>load<f32>(row + pixel);
      s1 += value * <f64>load<f32>(row1 + pixel);
      s2 += value * <f64>load<f32>(row2 + pixel);
      s3 += value * <f64>load<f32>(row3 + pixel);
    }
    const to = out + (<usize>j << 3);
    store<f64>(to, s0);
    store<f64>(to, s1, 8);
    store<f64>(to, s2, 16);
    store<f64>(to, s3, 24);
    row = row3 + stride;
  }
  for (; j < count; j++) {
    let sum: f64 = 0;
    for (let place = at; place < end; place += 4) {
      sum += <f64>load<f32>(place + toValue) * <f64>load<f32>(row + (<usize>load<i32>(place) << 2));
    }
    store<f64>(out + (<usize>j << 3), sum);
    row += stride;
  }
}
