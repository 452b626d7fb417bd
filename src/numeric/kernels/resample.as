// kernels: picture and an affine map → the picture resampled. As in warp.ts, to the last bit.

import { cubicPair, cubicStretch, lineOf, placeOf } from "./cubic";
import { promote } from "./holes";

/** Positions this near to a whole pixel, or to the border, count as on it, px. */
const ON_PIXEL: f64 = 1e-9;
const LINEAR = 0;
const CUBIC = 1;
const SPLINE = 2;

/** Resample a picture.
 *  @param data f32. @param source f64, what is read between pixels. @param filled whether it is there already: else it is the
 *  picture itself, written here row by row, shortly before it is read. @param known u8, 1 = a reading; 0: no holes.
 *  @param a … f the map, from pixels of the result to places in the picture. @param out f32.
 *  @param order 0 linear, 1 cubic, 2 spline.
 */
export function warp(
  data: usize,
  source: usize,
  filled: bool,
  known: usize,
  width: i32,
  height: i32,
  a: f64,
  b: f64,
  c: f64,
  d: f64,
  e: f64,
  f: f64,
  order: i32,
  out: usize,
): void {
  let ready = filled ? height : 0;
  for (let y = 0; y < height; y++) {
    if (ready < height) {
      // Two rows beyond that of the lowest pixel are read.
      const lowest = Math.max(f, d * <f64>(width - 1) + f) + e * <f64>y;
      const rows = <i32>Math.min(<f64>height, Math.max(0, Math.floor(lowest) + 4));
      if (rows > ready) {
        const from = <usize>(ready * width);
        promote(data + (from << 2), (rows - ready) * width, source + (from << 3));
        ready = rows;
      }
    }
    const to = out + (<usize>(y * width) << 2);
    warpRow(data, source, known, width, height, y, a, b, c, d, e, f, order, to);
  }
}

/** One row of the result: stretches of it that are read side by side from one row and well inside the picture by fours. */
function warpRow(
  data: usize,
  source: usize,
  known: usize,
  width: i32,
  height: i32,
  y: i32,
  a: f64,
  b: f64,
  c: f64,
  d: f64,
  e: f64,
  f: f64,
  order: i32,
  out: usize,
): void {
  const by = b * <f64>y;
  const ey = e * <f64>y;
  for (let x = 0; x < width; ) {
    let fours = (width - x) >> 2;
    const u = Math.floor(a * <f64>x + by + c);
    const v = Math.floor(d * <f64>x + ey + f);
    while (fours > 0 && !sideBySide(u, v, <f64>x, <f64>(4 * fours - 1), width, height, a, by, c, d, ey, f)) fours >>= 1;
    if (fours > 0) {
      const end = x + 4 * fours;
      warpStretch(data, source, known, width, height, x, end, y, <i32>u, <i32>v, a, b, c, d, e, f, order, out);
      x = end;
      continue;
    }
    const end = min(x + 4, width);
    for (; x < end; x++) warpPixel(data, source, known, width, height, x, y, a, b, c, d, e, f, order, out + (<usize>x << 2));
  }
}

/** Whether x and the pixel `more` after it are read beyond pixels as far apart and of one row, all of whose neighbours lie in
 *  the picture. So are those between them, then: places lie on a straight line.
 *  @param u @param v the pixel before the first of them.
 */
function sideBySide(
  u: f64,
  v: f64,
  x: f64,
  more: f64,
  width: i32,
  height: i32,
  a: f64,
  by: f64,
  c: f64,
  d: f64,
  ey: f64,
  f: f64,
): bool {
  if (!(u >= 1 && u + more < <f64>(width - 2) && v >= 1 && v < <f64>(height - 2))) return false;
  const low = 2 * ON_PIXEL;
  const high = 1 - 3 * ON_PIXEL;
  const t0 = a * x + by + c - u;
  const t1 = a * (x + more) + by + c - (u + more);
  const u0 = d * x + ey + f - v;
  const u1 = d * (x + more) + ey + f - v;
  return t0 > low && t0 < high && t1 > low && t1 < high && u0 > low && u0 < high && u1 > low && u1 < high;
}

/** Some fours of pixels. @param column @param row the pixel before the place of the first one. */
function warpStretch(
  data: usize,
  source: usize,
  known: usize,
  width: i32,
  height: i32,
  start: i32,
  end: i32,
  y: i32,
  column: i32,
  row: i32,
  a: f64,
  b: f64,
  c: f64,
  d: f64,
  e: f64,
  f: f64,
  order: i32,
  out: usize,
): void {
  const reach = order == LINEAR ? 1 : 2;
  const row8 = <usize>width << 3;
  if (known == 0 && order == CUBIC) {
    const at = source + (<usize>((row - 1) * width + column - 1) << 3);
    cubicStretch(at, row8, start, end, b * <f64>y, e * <f64>y, <f64>column, <f64>row, a, c, d, f, out);
    return;
  }
  const mapA = f64x2.splat(a);
  const mapB = f64x2.splat(b * <f64>y);
  const mapC = f64x2.splat(c);
  const mapD = f64x2.splat(d);
  const mapE = f64x2.splat(e * <f64>y);
  const mapF = f64x2.splat(f);
  const top = f64x2.splat(<f64>row);
  const further = f64x2.splat(2);
  let at = source + (<usize>((row + 1 - reach) * width + column + 1 - reach) << 3);
  let x0 = f64x2.add(f64x2.splat(<f64>start), f64x2(0, 1));
  let u0 = f64x2.add(f64x2.splat(<f64>column), f64x2(0, 1));
  for (let x = start; x < end; x += 4) {
    const to = out + (<usize>x << 2);
    const x1 = f64x2.add(x0, further);
    const u1 = f64x2.add(u0, further);
    if (known == 0 || known8(known, width, column + x - start, row, reach)) {
      const t0 = f64x2.sub(placeOf(x0, mapA, mapB, mapC), u0);
      const t1 = f64x2.sub(placeOf(x1, mapA, mapB, mapC), u1);
      const v0 = f64x2.sub(placeOf(x0, mapD, mapE, mapF), top);
      const v1 = f64x2.sub(placeOf(x1, mapD, mapE, mapF), top);
      if (order == LINEAR) storeFour(to, linearPair(at, row8, t0, v0), linearPair(at + 16, row8, t1, v1));
      else if (order == SPLINE) storeFour(to, splinePair(at, row8, t0, v0), splinePair(at + 16, row8, t1, v1));
      else storeFour(to, cubicPair(at, row8, t0, v0), cubicPair(at + 16, row8, t1, v1));
    } else {
      for (let k = 0; k < 4; k++) {
        warpPixel(data, source, known, width, height, x + k, y, a, b, c, d, e, f, order, to + (<usize>k << 2));
      }
    }
    at += 32;
    x0 = f64x2.add(x1, further);
    u0 = f64x2.add(u1, further);
  }
}

@inline
function storeFour(to: usize, left: v128, right: v128): void {
  const a = f32x4.demote_f64x2_zero(left);
  const b = f32x4.demote_f64x2_zero(right);
  v128.store(to, v128.shuffle<i64>(a, b, 0, 2));
}

/** Whether all pixels around four places have readings: seven columns (five for linear) of each row. Eight are read, of which the
 *  last may lie behind the picture; they do not count.
 */
function known8(known: usize, width: i32, column: i32, row: i32, reach: i32): bool {
  let all: u64 = -1;
  let at = known + <usize>((row + 1 - reach) * width + column + 1 - reach);
  for (let k = 0; k < 2 * reach; k++) {
    all &= load<u64>(at);
    at += <usize>width;
  }
  const wanted: u64 = reach == 1 ? 0x0000000101010101 : 0x0001010101010101;
  return (all & wanted) == wanted;
}

@inline
function linearPair(at: usize, row: usize, t: v128, u: v128): v128 {
  const one = f64x2.splat(1);
  const s = f64x2.sub(one, t);
  const upper = f64x2.add(f64x2.mul(s, v128.load(at)), f64x2.mul(t, v128.load(at, 8)));
  const lower = f64x2.add(f64x2.mul(s, v128.load(at + row)), f64x2.mul(t, v128.load(at + row, 8)));
  return f64x2.add(f64x2.mul(f64x2.sub(one, u), upper), f64x2.mul(u, lower));
}

@inline
function splinePair(at: usize, row: usize, t: v128, u: v128): v128 {
  const one = f64x2.splat(1);
  const s = f64x2.sub(one, t);
  const v = f64x2.sub(one, u);
  const x0 = sixth(s);
  const x1 = middle(t);
  const x2 = middle(s);
  const x3 = sixth(t);
  let sum = f64x2.add(f64x2.splat(0), f64x2.mul(sixth(v), lineOf(at, x0, x1, x2, x3)));
  sum = f64x2.add(sum, f64x2.mul(middle(u), lineOf(at + row, x0, x1, x2, x3)));
  sum = f64x2.add(sum, f64x2.mul(middle(v), lineOf(at + 2 * row, x0, x1, x2, x3)));
  return f64x2.add(sum, f64x2.mul(sixth(u), lineOf(at + 3 * row, x0, x1, x2, x3)));
}

/** t³ ÷ 6: weight of the spline's outer pixels. */
@inline
function sixth(t: v128): v128 {
  return f64x2.div(f64x2.mul(f64x2.mul(t, t), t), f64x2.splat(6));
}

/** Weight of the inner ones. */
@inline
function middle(t: v128): v128 {
  const inner = f64x2.sub(f64x2.splat(1), f64x2.mul(f64x2.splat(0.5), t));
  return f64x2.sub(f64x2.splat(2.0 / 3.0), f64x2.mul(f64x2.mul(t, t), inner));
}

/** One pixel of the result. */
function warpPixel(
  data: usize,
  source: usize,
  known: usize,
  width: i32,
  height: i32,
  x: i32,
  y: i32,
  a: f64,
  b: f64,
  c: f64,
  d: f64,
  e: f64,
  f: f64,
  order: i32,
  to: usize,
): void {
  const atX = a * <f64>x + b * <f64>y + c;
  const atY = d * <f64>x + e * <f64>y + f;
  const endX = <f64>(width - 1) + ON_PIXEL;
  const endY = <f64>(height - 1) + ON_PIXEL;
  if (!(atX >= -ON_PIXEL && atX <= endX && atY >= -ON_PIXEL && atY <= endY)) {
    store<f32>(to, NaN);
    return;
  }
  const column = <i32>Math.floor(atX + ON_PIXEL);
  const row = <i32>Math.floor(atY + ON_PIXEL);
  const offX = atX - <f64>column < ON_PIXEL ? 0 : atX - <f64>column;
  const offY = atY - <f64>row < ON_PIXEL ? 0 : atY - <f64>row;
  if (offX == 0 && offY == 0) {
    store<f32>(to, load<f32>(data + (<usize>(row * width + column) << 2)));
    return;
  }
  const reach = order == LINEAR ? 1 : 2;
  const reachX = offX > 0 ? reach : 0;
  const reachY = offY > 0 ? reach : 0;
  if (known != 0 && !allKnown(known, width, height, column, row, reachX, reachY)) {
    store<f32>(to, NaN);
    return;
  }
  const value =
    order == LINEAR
      ? linear(source, row * width + column, reachX, reachY * width, offX, offY)
      : curved(source, width, height, column, row, offX, offY, order == SPLINE);
  store<f32>(to, <f32>value);
}

@inline
function numberAt(from: usize, index: i32): f64 {
  return load<f64>(from + (<usize>index << 3));
}

function linear(source: usize, at: i32, right: i32, down: i32, offX: f64, offY: f64): f64 {
  const upper = (1 - offX) * numberAt(source, at) + offX * numberAt(source, at + right);
  const lower = (1 - offX) * numberAt(source, at + down) + offX * numberAt(source, at + down + right);
  return (1 - offY) * upper + offY * lower;
}

/** Weighted sum of 4×4 pixels, mirrored about the border. */
function curved(
  source: usize,
  width: i32,
  height: i32,
  column: i32,
  row: i32,
  t: f64,
  u: f64,
  spline: bool,
): f64 {
  const x0 = tap(t, 0, spline);
  const x1 = tap(t, 1, spline);
  const x2 = tap(t, 2, spline);
  const x3 = tap(t, 3, spline);
  const c0 = mirror(column - 1, width);
  const c1 = mirror(column, width);
  const c2 = mirror(column + 1, width);
  const c3 = mirror(column + 2, width);
  let sum: f64 = 0;
  for (let k = 0; k < 4; k++) {
    const start = mirror(row + k - 1, height) * width;
    let line = x0 * numberAt(source, start + c0) + x1 * numberAt(source, start + c1);
    line += x2 * numberAt(source, start + c2);
    line += x3 * numberAt(source, start + c3);
    sum += tap(u, k, spline) * line;
  }
  return sum;
}

/** Weight of the pixel at −1, 0, 1 or 2. */
function tap(t: f64, k: i32, spline: bool): f64 {
  const s = 1 - t;
  if (k == 0) return spline ? (s * s * s) / 6 : t * (-0.5 + t * (1 - 0.5 * t));
  if (k == 1) return spline ? 2.0 / 3.0 - t * t * (1 - 0.5 * t) : 1 + t * t * (-2.5 + 1.5 * t);
  if (k == 2) return spline ? 2.0 / 3.0 - s * s * (1 - 0.5 * s) : t * (0.5 + t * (2 - 1.5 * t));
  return spline ? (t * t * t) / 6 : t * t * (-0.5 + 0.5 * t);
}

/** True if every pixel that has weight is a reading; a reach of 0 means that only the one column or row has. */
function allKnown(known: usize, width: i32, height: i32, column: i32, row: i32, reachX: i32, reachY: i32): bool {
  const firstX = reachX == 0 ? column : column + 1 - reachX;
  const firstY = reachY == 0 ? row : row + 1 - reachY;
  for (let y = firstY; y <= row + reachY; y++) {
    const start = known + <usize>(mirror(y, height) * width);
    for (let x = firstX; x <= column + reachX; x++) {
      if (load<u8>(start + <usize>mirror(x, width)) == 0) return false;
    }
  }
  return true;
}

/** Reflect an index about the first and the last pixel. */
function mirror(index: i32, length: i32): i32 {
  let at = index < 0 ? -index : index;
  if (at >= length) at = 2 * (length - 1) - at;
  return max(at, 0);
}
