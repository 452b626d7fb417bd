// kernels: edge samples of two pictures → what a step of the alignment needs. As in sample-moving.ts, fit-amounts.ts and
// step-sums.ts.

/** The language's own, so that results are those of the plain code. */
@external("env", "exp")
declare function exp(x: f64): f64;

/** Read a picture and its slopes between its pixels, where a map brings the samples; NaN outside.
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
    const column = <i32>Math.floor(atX);
    const row = <i32>Math.floor(atY);
    const t = atX - <f64>column;
    const s = atY - <f64>row;
    const x0 = t * (-0.5 + t * (1 - 0.5 * t));
    const x1 = 1 + t * t * (-2.5 + 1.5 * t);
    const x2 = t * (0.5 + t * (2 - 1.5 * t));
    const x3 = t * t * (-0.5 + 0.5 * t);
    const dx0 = -0.5 + t * (2 - 1.5 * t);
    const dx1 = t * (-5 + 4.5 * t);
    const dx2 = 0.5 + t * (4 - 4.5 * t);
    const dx3 = t * (-1 + 1.5 * t);
    const i0 = moving + (<usize>((row - 1) * width + column - 1) << 2);
    const i1 = i0 + row4;
    const i2 = i1 + row4;
    const i3 = i2 + row4;
    const r0 = four(i0, x0, x1, x2, x3);
    const g0 = four(i0, dx0, dx1, dx2, dx3);
    const r1 = four(i1, x0, x1, x2, x3);
    const g1 = four(i1, dx0, dx1, dx2, dx3);
    const r2 = four(i2, x0, x1, x2, x3);
    const g2 = four(i2, dx0, dx1, dx2, dx3);
    const r3 = four(i3, x0, x1, x2, x3);
    const g3 = four(i3, dx0, dx1, dx2, dx3);
    const y0 = s * (-0.5 + s * (1 - 0.5 * s));
    const y1 = 1 + s * s * (-2.5 + 1.5 * s);
    const y2 = s * (0.5 + s * (2 - 1.5 * s));
    const y3 = s * s * (-0.5 + 0.5 * s);
    const across = y0 * g0 + y1 * g1 + y2 * g2 + y3 * g3;
    const down =
      (-0.5 + s * (2 - 1.5 * s)) * r0 +
      s * (-5 + 4.5 * s) * r1 +
      (0.5 + s * (4 - 4.5 * s)) * r2 +
      s * (-1 + 1.5 * s) * r3;
    store<f32>(value + k, <f32>(y0 * r0 + y1 * r1 + y2 * r2 + y3 * r3));
    store<f32>(slopeX + k, <f32>(a * across + d * down));
    store<f32>(slopeY + k, <f32>(b * across + e * down));
  }
}

@inline
function four(at: usize, a: f64, b: f64, c: f64, d: f64): f64 {
  return (
    a * <f64>load<f32>(at) + b * <f64>load<f32>(at, 4) + c * <f64>load<f32>(at, 8) + d * <f64>load<f32>(at, 12)
  );
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
 *  slopes, and the level around each sample. @param blocks i32 per sample.
 *  @param numbers f64 in: squared noise, clip, squared misfit, middle x and y, arm, dx, dy, angle, pull, twice its squared
 *  width, Cauchy's constant; whether the level around counts (1) or not (0).
 *  @param scores f64, three per block, zeros. @param out nine f64: h0 h1 h2 h4 h5 h8, product, square, other square.
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
    const s2 = level2 + misfit2 * (jx * jx + jy * jy);
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
    const pull = weight * pull0 * exp(-(u0 * u0 + v0 * v0) / pullWidth);
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
}
