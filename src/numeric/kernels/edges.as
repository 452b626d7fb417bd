// kernels: edge samples of two pictures → what a step of the alignment needs. As in sample-moving.ts, fit-amounts.ts,
// edge-steps.ts and step-sums.ts.

/** The language's own, asked for where the one below does not reach. */
@external("env", "exp")
export declare function expOf(x: f64): f64;

/** ln 2 in two parts: the first has so few digits that its multiples are exact. */
const LN2_HIGH: f64 = 6.93147180369123816490e-01;
const LN2_LOW: f64 = 1.90821492927058770002e-10;
const PER_LN2: f64 = 1.44269504088896338700;

/** e^x to the last bit as V8 has it: a call out of the kernels takes longer than all else of a sample.
 *  Method: fdlibm's e_exp.c (Sun Microsystems 1993; coefficients from memory, compared with Math.exp at 30 million places).
 */
function exp(value: f64): f64 {
  const high = <u32>(reinterpret<u64>(value) >> 32);
  const size = high & 0x7fffffff;
  // Below 2^−28, where the result would not be a normal number, and where V8 has e itself.
  if (size < 0x3e300000 || size >= 0x40860000 || value == 1) return expOf(value);
  const sign: f64 = high >>> 31 == 0 ? 1 : -1;
  let x = value;
  let left: f64 = 0;
  let low: f64 = 0;
  let power = 0;
  // Above half of ln 2 its multiples are taken off.
  if (size > 0x3fd62e42) {
    // Up to one and a half of it that is once.
    power = size < 0x3ff0a2b2 ? <i32>sign : <i32>(PER_LN2 * x + 0.5 * sign);
    left = x - <f64>power * LN2_HIGH;
    low = <f64>power * LN2_LOW;
    x = left - low;
  }
  const t = x * x;
  const inner = 6.61375632143793436117e-5 + t * (-1.65339022054652515390e-6 + t * 4.13813679705723846039e-8);
  const c = x - t * (1.66666666666666019037e-1 + t * (-2.77777777770155933842e-3 + t * inner));
  if (power == 0) return 1 - ((x * c) / (c - 2) - x);
  const y = 1 - (low - (x * c) / (2 - c) - left);
  return y * reinterpret<f64>(<u64>(1023 + power) << 52);
}

/** Read a picture and its slopes between its pixels, where a map brings the samples. Outside, or within a pixel of the border,
 *  the value is NaN, and the slopes stay what they were.
 *  @param moving f32. @param x @param y f32 per sample. @param a … f the map. @param value @param slopeX @param slopeY f32.
 */
export function sampleEdges(
  moving: usize,
  width: i32,
  height: i32,
  x: usize,
  y: usize,
  count: i32,
  a: f64,
  b: f64,
  c: f64,
  d: f64,
  e: f64,
  f: f64,
  value: usize,
  slopeX: usize,
  slopeY: usize,
): void {
  const row4 = <usize>width << 2;
  for (let k: usize = 0; k < <usize>count << 2; k += 4) {
    const px = <f64>load<f32>(x + k);
    const py = <f64>load<f32>(y + k);
    const atX = a * px + b * py + c;
    const atY = d * px + e * py + f;
    if (!(atX >= 1 && atX < <f64>(width - 2) && atY >= 1 && atY < <f64>(height - 2))) {
      store<f32>(value + k, NaN);
      continue;
    }
    const column = <i32>atX;
    const row = <i32>atY;
    // Weights of the pixels at −1, 0, 1, 2 and their derivatives, along the row and down the column in the two lanes.
    const t = f64x2.replace_lane(f64x2.splat(atX - <f64>column), 1, atY - <f64>row);
    const t2 = f64x2.mul(t, t);
    const less = f64x2.mul(f64x2.splat(0.5), t);
    const more = f64x2.mul(f64x2.splat(1.5), t);
    const most = f64x2.mul(f64x2.splat(4.5), t);
    const minus = f64x2.splat(-0.5);
    const plus = f64x2.splat(0.5);
    const one = f64x2.splat(1);
    const w0 = f64x2.mul(t, f64x2.add(minus, f64x2.mul(t, f64x2.sub(one, less))));
    const w1 = f64x2.add(one, f64x2.mul(t2, f64x2.add(f64x2.splat(-2.5), more)));
    const w2 = f64x2.mul(t, f64x2.add(plus, f64x2.mul(t, f64x2.sub(f64x2.splat(2), more))));
    const w3 = f64x2.mul(t2, f64x2.add(minus, less));
    const d0 = f64x2.add(minus, f64x2.mul(t, f64x2.sub(f64x2.splat(2), more)));
    const d1 = f64x2.mul(t, f64x2.add(f64x2.splat(-5), most));
    const d2 = f64x2.add(plus, f64x2.mul(t, f64x2.sub(f64x2.splat(4), most)));
    const d3 = f64x2.mul(t, f64x2.add(f64x2.splat(-1), more));
    // Value and slope along the row in the two lanes.
    const x0 = v128.shuffle<i64>(w0, d0, 0, 2);
    const x1 = v128.shuffle<i64>(w1, d1, 0, 2);
    const x2 = v128.shuffle<i64>(w2, d2, 0, 2);
    const x3 = v128.shuffle<i64>(w3, d3, 0, 2);
    const i0 = moving + (<usize>((row - 1) * width + column - 1) << 2);
    const line0 = four(i0, x0, x1, x2, x3);
    const line1 = four(i0 + row4, x0, x1, x2, x3);
    const line2 = four(i0 + 2 * row4, x0, x1, x2, x3);
    const line3 = four(i0 + 3 * row4, x0, x1, x2, x3);
    const both = weighed(line0, line1, line2, line3, w0, w1, w2, w3);
    const across = f64x2.extract_lane(both, 1);
    const down = f64x2.extract_lane(weighed(line0, line1, line2, line3, d0, d1, d2, d3), 0);
    store<f32>(value + k, <f32>f64x2.extract_lane(both, 0));
    store<f32>(slopeX + k, <f32>(a * across + d * down));
    store<f32>(slopeY + k, <f32>(b * across + e * down));
  }
}

/** Four lines in their weights down the column, which stand in the upper lanes. */
@inline
function weighed(a: v128, b: v128, c: v128, d: v128, w0: v128, w1: v128, w2: v128, w3: v128): v128 {
  const two = f64x2.add(
    f64x2.mul(v128.shuffle<i64>(w0, w0, 1, 1), a),
    f64x2.mul(v128.shuffle<i64>(w1, w1, 1, 1), b),
  );
  return f64x2.add(
    f64x2.add(two, f64x2.mul(v128.shuffle<i64>(w2, w2, 1, 1), c)),
    f64x2.mul(v128.shuffle<i64>(w3, w3, 1, 1), d),
  );
}

@inline
function four(at: usize, a: v128, b: v128, c: v128, d: v128): v128 {
  const pixels = v128.load(at);
  const left = f64x2.promote_low_f32x4(pixels);
  const right = f64x2.promote_low_f32x4(v128.shuffle<i64>(pixels, pixels, 1, 1));
  const two = f64x2.add(
    f64x2.mul(a, v128.shuffle<i64>(left, left, 0, 0)),
    f64x2.mul(b, v128.shuffle<i64>(left, left, 1, 1)),
  );
  return f64x2.add(
    f64x2.add(two, f64x2.mul(c, v128.shuffle<i64>(right, right, 0, 0))),
    f64x2.mul(d, v128.shuffle<i64>(right, right, 1, 1)),
  );
}

/** Add up lists in amounts: a · first + b · second + c · third. @param out f32. */
export function mixThree(
  first: usize,
  second: usize,
  third: usize,
  count: i32,
  a: f64,
  b: f64,
  c: f64,
  out: usize,
): void {
  for (let k: usize = 0; k < <usize>count << 2; k += 4) {
    const two = a * <f64>load<f32>(first + k) + b * <f64>load<f32>(second + k);
    store<f32>(out + k, <f32>(two + c * <f64>load<f32>(third + k)));
  }
}

/** Add up the sizes of differences by cells; NaN does not count. surroundings.ts.
 *  @param residual f32. @param cells i32 per difference. @param sums @param counts f32 per cell, zeros at first.
 */
export function sizesByCell(residual: usize, cells: usize, count: i32, sums: usize, counts: usize): void {
  for (let k: usize = 0; k < <usize>count << 2; k += 4) {
    const size = abs(load<f32>(residual + k));
    if (!(size * 0 == 0)) continue;
    const cell = <usize>load<i32>(cells + k) << 2;
    store<f32>(sums + cell, load<f32>(sums + cell) + size);
    store<f32>(counts + cell, load<f32>(counts + cell) + 1);
  }
}

/** Read the means of cells. @param out f32 per sample. */
export function meansOfCells(sums: usize, counts: usize, cells: usize, count: i32, out: usize): void {
  for (let k: usize = 0; k < <usize>count << 2; k += 4) {
    const cell = <usize>load<i32>(cells + k) << 2;
    store<f32>(out + k, load<f32>(sums + cell) / load<f32>(counts + cell));
  }
}

/** Sums of one round of the robust fit of three shapes to a picture.
 *  @param out nine f64: right side 0, 1, 2, then products 00, 10, 11, 20, 21, 22.
 */
export function fitSums(
  first: usize,
  second: usize,
  third: usize,
  picture: usize,
  count: i32,
  a: f64,
  b: f64,
  c: f64,
  cap: f64,
  out: usize,
): void {
  let g00: f64 = 0;
  let g10: f64 = 0;
  let g11: f64 = 0;
  let g20: f64 = 0;
  let g21: f64 = 0;
  let g22: f64 = 0;
  let r0: f64 = 0;
  let r1: f64 = 0;
  let r2: f64 = 0;
  for (let k: usize = 0; k < <usize>count << 2; k += 4) {
    const s0 = <f64>load<f32>(first + k);
    const s1 = <f64>load<f32>(second + k);
    const s2 = <f64>load<f32>(third + k);
    const p = <f64>load<f32>(picture + k);
    const r = p - a * s0 - b * s1 - c * s2;
    if (!(r * 0 == 0)) continue;
    const weight = 1 / (1 + r * r * cap);
    const w0 = weight * s0;
    const w1 = weight * s1;
    const w2 = weight * s2;
    r0 += w0 * p;
    r1 += w1 * p;
    r2 += w2 * p;
    g00 += w0 * s0;
    g10 += w1 * s0;
    g11 += w1 * s1;
    g20 += w2 * s0;
    g21 += w2 * s1;
    g22 += w2 * s2;
  }
  store<f64>(out, r0);
  store<f64>(out, r1, 8);
  store<f64>(out, r2, 16);
  store<f64>(out, g00, 24);
  store<f64>(out, g10, 32);
  store<f64>(out, g11, 40);
  store<f64>(out, g20, 48);
  store<f64>(out, g21, 56);
  store<f64>(out, g22, 64);
}

/** The normal equations of one step.
 *  @param lists f32 per sample, `count` numbers apart: x, y, gate, residual, expected value and slopes, seen value and
 *  slopes, the level around each sample, and slopes of what the map alone draws.
 *  @param blocks i32 per sample: where the three scores of its block stand.
 *  @param numbers f64 in: squared noise, clip, squared misfit, middle x and y, arm, dx, dy, angle, pull, twice its squared
 *  width, squared scale of Cauchy's weight; whether the level around counts (1) or not (0); squared misfit of what
 *  the map draws, squared slope of noise and pattern.
 *  @param scores f64, three per block, zeros.
 *  @param out eighteen f64: h0 h1 h2 h4 h5 h8, product, square, other square, e0 e1 e2 e4 e5 e8, and the sum of all scores.
 */
export function stepSums(lists: usize, count: i32, blocks: usize, numbers: usize, scores: usize, out: usize): void {
  const list = <usize>count << 2;
  const noise2 = load<f64>(numbers);
  const clipK = load<f64>(numbers, 8);
  const misfit2 = load<f64>(numbers, 16);
  const cx = load<f64>(numbers, 24);
  const cy = load<f64>(numbers, 32);
  const arm = load<f64>(numbers, 40);
  const dx = load<f64>(numbers, 48);
  const dy = load<f64>(numbers, 56);
  const angle = load<f64>(numbers, 64);
  const pull0 = load<f64>(numbers, 72);
  const pullWidth = load<f64>(numbers, 80);
  const cauchy2 = load<f64>(numbers, 88);
  const distrust = load<f64>(numbers, 96) == 1;
  const drawnMisfit2 = load<f64>(numbers, 104);
  const noiseSlope2 = load<f64>(numbers, 112);
  let e0: f64 = 0;
  let e1: f64 = 0;
  let e2: f64 = 0;
  let e4: f64 = 0;
  let e5: f64 = 0;
  let e8: f64 = 0;
  let h0: f64 = 0;
  let h1: f64 = 0;
  let h2: f64 = 0;
  let h4: f64 = 0;
  let h5: f64 = 0;
  let h8: f64 = 0;
  let product: f64 = 0;
  let square: f64 = 0;
  let otherSquare: f64 = 0;
  for (let k: usize = 0; k < list; k += 4) {
    const at = lists + k;
    const r = <f64>load<f32>(at + 3 * list);
    const jx = 0.5 * (<f64>load<f32>(at + 5 * list) + <f64>load<f32>(at + 8 * list));
    const jy = 0.5 * (<f64>load<f32>(at + 6 * list) + <f64>load<f32>(at + 9 * list));
    if (!(r * 0 == 0) || !(jx * 0 == 0) || !(jy * 0 == 0)) continue;
    const gate = <f64>load<f32>(at + 2 * list);
    let level2 = noise2;
    if (distrust) {
      const level = <f64>load<f32>(at + 10 * list);
      level2 = Math.max(noise2, level * level);
    }
    const wx = <f64>load<f32>(at + 11 * list);
    const wy = <f64>load<f32>(at + 12 * list);
    const s2 = level2 + misfit2 * (jx * jx + jy * jy) + drawnMisfit2 * (wx * wx + wy * wy);
    const weight = gate / (s2 + (r * r) / cauchy2);
    const t = Math.min(clipK, Math.max(-clipK, <f64>load<f32>(at + 4 * list)));
    const m = Math.min(clipK, Math.max(-clipK, <f64>load<f32>(at + 7 * list)));
    product += gate * t * m;
    square += gate * t * t;
    otherSquare += gate * m * m;
    const fromX = <f64>load<f32>(at) - cx;
    const fromY = <f64>load<f32>(at + list) - cy;
    const ja = (jy * fromX - jx * fromY) / arm;
    h0 += weight * jx * jx;
    h1 += weight * jx * jy;
    h2 += weight * jx * ja;
    h4 += weight * jy * jy;
    h5 += weight * jy * ja;
    h8 += weight * ja * ja;
    const u0 = dx - angle * fromY;
    const v0 = dy + angle * fromX;
    const pull = pull0 == 0 ? 0 : weight * pull0 * exp(-(u0 * u0 + v0 * v0) / pullWidth);
    const own = 0.5 * weight * noiseSlope2 + 0.5 * pull;
    const e = pull / pullWidth;
    const xx = own - e * u0 * u0;
    const xy = -e * u0 * v0;
    const yy = own - e * v0 * v0;
    const ax = -fromY / arm;
    const ay = fromX / arm;
    e0 += xx;
    e1 += xy;
    e2 += xx * ax + xy * ay;
    e4 += yy;
    e5 += xy * ax + yy * ay;
    e8 += xx * ax * ax + 2 * xy * ax * ay + yy * ay * ay;
    const wr = weight * r;
    const block = scores + (<usize>load<i32>(blocks + k) << 3);
    store<f64>(block, load<f64>(block) + (wr * jx - pull * u0));
    store<f64>(block, load<f64>(block, 8) + (wr * jy - pull * v0), 8);
    store<f64>(block, load<f64>(block, 16) + (wr * ja - (pull * (v0 * fromX - u0 * fromY)) / arm), 16);
  }
  store<f64>(out, h0);
  store<f64>(out, h1, 8);
  store<f64>(out, h2, 16);
  store<f64>(out, h4, 24);
  store<f64>(out, h5, 32);
  store<f64>(out, h8, 40);
  store<f64>(out, product, 48);
  store<f64>(out, square, 56);
  store<f64>(out, otherSquare, 64);
  store<f64>(out, e0, 72);
  store<f64>(out, e1, 80);
  store<f64>(out, e2, 88);
  store<f64>(out, e4, 96);
  store<f64>(out, e5, 104);
  store<f64>(out, e8, 112);
}
