// kernels: picture and an affine map → the picture resampled; and the coefficients of its cubic B-spline. As in warp.ts and
// spline-coefficients.ts.

const GAIN: f64 = 6;
/** Beyond so many pixels nothing of a value is left in double precision. */
const FAR = 30;
/** Positions this near to a whole pixel, or to the border, count as on it, px. */
const ON_PIXEL: f64 = 1e-9;

/** Filter `lanes` neighbouring lines of `length` values at once; the values of a line lie `step` apart.
 *  @param c f64. @param pole of the inverse of the sampled spline. @param whole 1 ÷ (1 − pole^period), the period of the
 *  mirrored line; @param atEnd pole^(period − 1); @param atLast pole^(length − 1).
 */
export function filterLines(
  c: usize,
  step: i32,
  length: i32,
  lanes: i32,
  pole: f64,
  whole: f64,
  atEnd: f64,
  atLast: f64,
): void {
  const apart = <usize>step << 3;
  const last = c + <usize>(length - 1) * apart;
  const all = <usize>lanes << 3;
  for (let lane: usize = 0; lane < all; lane += 8) {
    let forward = pole;
    let backward = atEnd;
    let sum = load<f64>(c + lane) + atLast * load<f64>(last + lane);
    for (let i = 1; i < min(length - 1, FAR); i++) {
      sum += (forward + backward) * load<f64>(c + lane + <usize>i * apart);
      forward *= pole;
      backward /= pole;
    }
    store<f64>(c + lane, GAIN * sum * whole);
  }
  for (let i = 1; i < length; i++) {
    const at = c + <usize>i * apart;
    for (let lane: usize = at; lane < at + all; lane += 8) {
      store<f64>(lane, GAIN * load<f64>(lane) + pole * load<f64>(lane - apart));
    }
  }
  const end = pole / (pole * pole - 1);
  for (let lane: usize = last; lane < last + all; lane += 8) {
    store<f64>(lane, end * (load<f64>(lane) + pole * load<f64>(lane - apart)));
  }
  for (let i = length - 2; i >= 0; i--) {
    const at = c + <usize>i * apart;
    for (let lane: usize = at; lane < at + all; lane += 8) {
      store<f64>(lane, pole * (load<f64>(lane + apart) - load<f64>(lane)));
    }
  }
}

/** Resample a picture.
 *  @param data f32. @param source f64, what is read between pixels. @param known u8, 1 = a reading; 0: no holes.
 *  @param a … f the map, from pixels of the result to places in the picture. @param out f32.
 *  @param order 0 linear, 1 cubic, 2 spline.
 */
export function warp(
  data: usize,
  source: usize,
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
  const endX = <f64>(width - 1) + ON_PIXEL;
  const endY = <f64>(height - 1) + ON_PIXEL;
  const reach = order == 0 ? 1 : 2;
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const to = out + (<usize>(y * width + x) << 2);
      const atX = a * <f64>x + b * <f64>y + c;
      const atY = d * <f64>x + e * <f64>y + f;
      if (!(atX >= -ON_PIXEL && atX <= endX && atY >= -ON_PIXEL && atY <= endY)) {
        store<f32>(to, NaN);
        continue;
      }
      const column = <i32>Math.floor(atX + ON_PIXEL);
      const row = <i32>Math.floor(atY + ON_PIXEL);
      const offX = atX - <f64>column < ON_PIXEL ? 0 : atX - <f64>column;
      const offY = atY - <f64>row < ON_PIXEL ? 0 : atY - <f64>row;
      if (offX == 0 && offY == 0) {
        store<f32>(to, load<f32>(data + (<usize>(row * width + column) << 2)));
        continue;
      }
      const reachX = offX > 0 ? reach : 0;
      const reachY = offY > 0 ? reach : 0;
      if (known != 0 && !allKnown(known, width, height, column, row, reachX, reachY)) {
        store<f32>(to, NaN);
        continue;
      }
      const value =
        order == 0
          ? linear(source + (<usize>(row * width + column) << 3), reachX << 3, (reachY * width) << 3, offX, offY)
          : curved(source, width, height, column, row, offX, offY, order == 2);
      store<f32>(to, <f32>value);
    }
  }
}

function linear(at: usize, right: usize, down: usize, offX: f64, offY: f64): f64 {
  const upper = (1 - offX) * load<f64>(at) + offX * load<f64>(at + right);
  const lower = (1 - offX) * load<f64>(at + down) + offX * load<f64>(at + down + right);
  return (1 - offY) * upper + offY * lower;
}

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
  const s = 1 - t;
  const x0 = spline ? (s * s * s) / 6 : t * (-0.5 + t * (1 - 0.5 * t));
  const x1 = spline ? 2.0 / 3.0 - t * t * (1 - 0.5 * t) : 1 + t * t * (-2.5 + 1.5 * t);
  const x2 = spline ? 2.0 / 3.0 - s * s * (1 - 0.5 * s) : t * (0.5 + t * (2 - 1.5 * t));
  const x3 = spline ? (t * t * t) / 6 : t * t * (-0.5 + 0.5 * t);
  const inside = column >= 1 && column < width - 2 && row >= 1 && row < height - 2;
  let sum: f64 = 0;
  for (let k = 0; k < 4; k++) {
    let line: f64;
    if (inside) {
      const at = source + (<usize>((row + k - 1) * width + column - 1) << 3);
      line = x0 * load<f64>(at) + x1 * load<f64>(at, 8) + x2 * load<f64>(at, 16) + x3 * load<f64>(at, 24);
    } else {
      const start = source + (<usize>(mirror(row + k - 1, height) * width) << 3);
      line = x0 * load<f64>(start + (<usize>mirror(column - 1, width) << 3));
      line += x1 * load<f64>(start + (<usize>mirror(column, width) << 3));
      line += x2 * load<f64>(start + (<usize>mirror(column + 1, width) << 3));
      line += x3 * load<f64>(start + (<usize>mirror(column + 2, width) << 3));
    }
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
