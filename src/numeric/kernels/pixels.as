// kernels: pictures pixel by pixel → other ones. As in pixel-arithmetic.ts, and in the files named at each.

/** Two numbers of f32 as doubles. */
@inline
export function pairAt(at: usize): v128 {
  return f64x2.promote_low_f32x4(v128.load64_zero(at));
}

/** Two doubles, rounded. */
@inline
export function storePair(to: usize, pair: v128): void {
  v128.store64_lane(to, f32x4.demote_f64x2_zero(pair), 0);
}

/** The difference of two pictures, f32: of two single numbers it is rounded once, whatever it was computed in. */
export function subtract(a: usize, b: usize, n: i32, out: usize): void {
  let i = 0;
  for (; i + 4 <= n; i += 4, a += 16, b += 16, out += 16) {
    v128.store(out, f32x4.sub(v128.load(a), v128.load(b)));
  }
  for (; i < n; i++, a += 4, b += 4, out += 4) store<f32>(out, load<f32>(a) - load<f32>(b));
}

/** Their sum. */
export function add(a: usize, b: usize, n: i32, out: usize): void {
  let i = 0;
  for (; i + 4 <= n; i += 4, a += 16, b += 16, out += 16) {
    v128.store(out, f32x4.add(v128.load(a), v128.load(b)));
  }
  for (; i < n; i++, a += 4, b += 4, out += 4) store<f32>(out, load<f32>(a) + load<f32>(b));
}

/** A picture of f32 times a number, plus another one, rounded once. */
export function linear(a: usize, n: i32, factor: f64, plus: f64, out: usize): void {
  let i = 0;
  for (; i + 2 <= n; i += 2, a += 8, out += 8) {
    storePair(out, f64x2.add(f64x2.mul(f64x2.splat(factor), pairAt(a)), f64x2.splat(plus)));
  }
  if (i < n) store<f32>(out, <f32>(factor * <f64>load<f32>(a) + plus));
}

/** A picture of f32 divided by a number, rounded once. */
export function divide(a: usize, n: i32, by: f64, out: usize): void {
  let i = 0;
  for (; i + 2 <= n; i += 2, a += 8, out += 8) storePair(out, f64x2.div(pairAt(a), f64x2.splat(by)));
  if (i < n) store<f32>(out, <f32>(<f64>load<f32>(a) / by));
}

/** Squares of the differences of two pictures of f32, rounded once. separate-pattern.ts */
export function squaredDifference(a: usize, b: usize, n: i32, out: usize): void {
  let i = 0;
  for (; i + 2 <= n; i += 2, a += 8, b += 8, out += 8) {
    const d = f64x2.sub(pairAt(a), pairAt(b));
    storePair(out, f64x2.mul(d, d));
  }
  if (i == n) return;
  const d = <f64>load<f32>(a) - <f64>load<f32>(b);
  store<f32>(out, <f32>(d * d));
}

/** A picture less an offset of each column and of each row. separate-pattern.ts. @param columns @param rows f64. */
export function takeLines(data: usize, width: i32, height: i32, columns: usize, rows: usize, out: usize): void {
  for (let y = 0; y < height; y++, rows += 8) {
    const row = load<f64>(rows);
    let x = 0;
    for (; x + 2 <= width; x += 2, data += 8, out += 8) {
      const above = f64x2.sub(pairAt(data), v128.load(columns + (<usize>x << 3)));
      storePair(out, f64x2.sub(above, f64x2.splat(row)));
    }
    if (x == width) continue;
    store<f32>(out, <f32>(<f64>load<f32>(data) - load<f64>(columns + (<usize>x << 3)) - row));
    data += 4;
    out += 4;
  }
}

/** What of each pixel belongs to the scene, what to the sensor, and the share of its detail that was kept. separate-pattern.ts.
 *  @param frame @param data @param mean @param variance f32. @param scene @param pattern @param share f32, written; they may
 *  lie where data, mean or variance do.
 */
export function keepScene(
  frame: usize,
  data: usize,
  mean: usize,
  variance: usize,
  n: i32,
  floor: f64,
  low: f64,
  high: f64,
  scene: usize,
  pattern: usize,
  share: usize,
): void {
  const all = <usize>n << 2;
  let at: usize = 0;
  for (; at + 8 <= all; at += 8) {
    const over = f64x2.sub(f64x2.div(pairAt(variance + at), f64x2.splat(floor)), f64x2.splat(low));
    const part = f64x2.div(over, f64x2.splat(high - low));
    const keep = f64x2.min(f64x2.splat(1), f64x2.max(f64x2.splat(0), part));
    const middle = pairAt(mean + at);
    const s = f64x2.add(middle, f64x2.mul(keep, f64x2.sub(pairAt(data + at), middle)));
    storePair(share + at, keep);
    storePair(scene + at, s);
    storePair(pattern + at, f64x2.sub(pairAt(frame + at), s));
  }
  if (at == all) return;
  const ratio = <f64>load<f32>(variance + at) / floor;
  const keep = min<f64>(1, max<f64>(0, (ratio - low) / (high - low)));
  const middle = <f64>load<f32>(mean + at);
  const s = middle + keep * (<f64>load<f32>(data + at) - middle);
  store<f32>(share + at, <f32>keep);
  store<f32>(scene + at, <f32>s);
  store<f32>(pattern + at, <f32>(<f64>load<f32>(frame + at) - s));
}

/** Means of square cells, less an offset of each column and row of cells. cell-picture.ts. @param columns @param rows f64. */
export function averageCells(
  data: usize,
  frameWidth: i32,
  side: i32,
  width: i32,
  height: i32,
  columns: usize,
  rows: usize,
  out: usize,
): void {
  const share = 1.0 / <f64>(side * side);
  const next = <usize>frameWidth << 2;
  for (let y = 0; y < height; y++) {
    const row = load<f64>(rows + (<usize>y << 3));
    let x = 0;
    for (; side == 2 && x + 2 <= width; x += 2, out += 8) {
      const at = data + (<usize>(2 * (y * frameWidth + x)) << 2);
      let sum = f64x2.add(f64x2.splat(0), pairEvery(v128.load(at)));
      sum = f64x2.add(sum, pairEvery(v128.load(at), true));
      sum = f64x2.add(sum, pairEvery(v128.load(at + next)));
      sum = f64x2.add(sum, pairEvery(v128.load(at + next), true));
      const above = f64x2.sub(f64x2.mul(f64x2.splat(share), sum), v128.load(columns + (<usize>x << 3)));
      storePair(out, f64x2.sub(above, f64x2.splat(row)));
    }
    for (; x < width; x++, out += 4) {
      let sum: f64 = 0;
      let at = data + (<usize>(side * (y * frameWidth + x)) << 2);
      for (let v = 0; v < side; v++, at += next) {
        for (let u = 0; u < side; u++) sum += <f64>load<f32>(at + (<usize>u << 2));
      }
      store<f32>(out, <f32>(share * sum - load<f64>(columns + (<usize>x << 3)) - row));
    }
  }
}

/** Of four numbers the first and the third, or the second and the fourth, as doubles. */
@inline
function pairEvery(four: v128, second: bool = false): v128 {
  return f64x2.promote_low_f32x4(second ? v128.shuffle<i32>(four, four, 1, 3, 1, 3) : v128.shuffle<i32>(four, four, 0, 2, 0, 2));
}

/** The difference of two pictures; NaN where a third one has no reading. */
export function differenceWhereRead(a: usize, b: usize, readings: usize, n: i32, out: usize): void {
  const all = <usize>n << 2;
  let at: usize = 0;
  // A difference of two numbers of f32 is rounded once, whatever it was computed in.
  for (; at + 16 <= all; at += 16) {
    const nothing = f32x4.mul(f32x4.splat(0), v128.load(readings + at));
    v128.store(out + at, f32x4.add(f32x4.sub(v128.load(a + at), v128.load(b + at)), nothing));
  }
  for (; at < all; at += 4) store<f32>(out + at, load<f32>(a + at) - load<f32>(b + at) + 0 * load<f32>(readings + at));
}

/** A picture with another one's numbers where it has no reading. */
export function fillFrom(data: usize, other: usize, n: i32, out: usize): void {
  const all = <usize>n << 2;
  let at: usize = 0;
  for (; at + 16 <= all; at += 16) {
    const four = v128.load(data + at);
    const known = f32x4.eq(f32x4.mul(four, f32x4.splat(0)), f32x4.splat(0));
    v128.store(out + at, v128.bitselect(four, v128.load(other + at), known));
  }
  for (; at < all; at += 4) {
    const value = load<f32>(data + at);
    store<f32>(out + at, value * 0 == 0 ? value : load<f32>(other + at));
  }
}

/** Sort numbers into stretches by another number of each. noise-by-gradient.ts.
 *  Without a branch: which stretch a number is of, noise decides anew for each.
 *  @param values @param slopes f32. @param limits f64, numbers of f32, rising, one less than there are classes; NaN: none is above it.
 *  @param next i32, where the stretch of each class begins; moved on. @param members f32, written.
 */
export function sortIntoClasses(
  values: usize,
  slopes: usize,
  n: i32,
  limits: usize,
  count: i32,
  next: usize,
  members: usize,
): void {
  let last = limits;
  const end = limits + (<usize>count << 3);
  while (last < end && load<f64>(last) == load<f64>(last)) last += 8;
  for (let left = n; left > 0; left -= 4, values += 16, slopes += 16) {
    const four = v128.load(slopes);
    let above = i32x4.splat(0);
    for (let limit = limits; limit < last; limit += 8) {
      above = i32x4.sub(above, f32x4.gt(four, f32x4.splat(<f32>load<f64>(limit))));
    }
    append(next, i32x4.extract_lane(above, 0), values, members);
    if (left > 1) append(next, i32x4.extract_lane(above, 1), values + 4, members);
    if (left > 2) append(next, i32x4.extract_lane(above, 2), values + 8, members);
    if (left > 3) append(next, i32x4.extract_lane(above, 3), values + 12, members);
  }
}

/** Put a number behind the others of its class. */
@inline
function append(next: usize, k: i32, value: usize, members: usize): void {
  const at = next + (<usize>k << 2);
  const place = load<i32>(at);
  store<f32>(members + (<usize>place << 2), load<f32>(value));
  store<i32>(at, place + 1);
}

/** Raise each pixel to the ratio of two others where that is larger. detect-patches.ts. @param top f32, changed. */
export function raise(top: usize, above: usize, below: usize, n: i32): void {
  const all = <usize>n << 2;
  let at: usize = 0;
  for (; at + 8 <= all; at += 8) {
    const ratio = f64x2.div(pairAt(above + at), pairAt(below + at));
    const before = pairAt(top + at);
    storePair(top + at, v128.bitselect(ratio, before, f64x2.gt(ratio, before)));
  }
  if (at == all) return;
  const ratio = <f64>load<f32>(above + at) / <f64>load<f32>(below + at);
  if (ratio > <f64>load<f32>(top + at)) store<f32>(top + at, <f32>ratio);
}

/** Raise each pixel towards the border of a picture by what a smaller one says, where that is more than usual. border-noise.ts.
 *  @param data f32, changed. @param gain f32, `across` numbers a row.
 */
export function raiseBorder(
  data: usize,
  width: i32,
  height: i32,
  gain: usize,
  across: i32,
  reach: i32,
  usual: f64,
): void {
  for (let y = 0; y < height; y++) {
    const row = shrunk(y, height, reach) * across;
    const whole = y < reach || y >= height - reach;
    for (let x = 0; x < width; x++) {
      if (!whole && x == reach) x = max(x, width - reach);
      if (x >= width) break;
      const ratio = <f64>load<f32>(gain + (<usize>(row + shrunk(x, width, reach)) << 2)) / usual;
      const at = data + (<usize>(y * width + x) << 2);
      if (ratio > 1) store<f32>(at, <f32>(<f64>load<f32>(at) * ratio));
    }
  }
}

/** Where a place of a line lies in one that has been shortened to both of its ends. */
@inline
function shrunk(at: i32, length: i32, reach: i32): i32 {
  if (at < reach || length <= 2 * reach + 1) return at;
  return max(reach, at - (length - (2 * reach + 1)));
}

/** Mark the pixels that reach a level, and make those NaN that are infinite. detect-patches.ts.
 *  @param top f32, changed. @param mask u8, written.
 */
export function markReached(top: usize, n: i32, level: f64, mask: usize): void {
  // The smallest number of f32 that is not below the level: a pixel reaches both or neither.
  let least = <f32>level;
  if (<f64>least < level) least = reinterpret<f32>(reinterpret<i32>(least) + (least > 0 ? 1 : -1));
  const bound = f32x4.splat(least);
  const none = f32x4.splat(0);
  const unread = f32x4.splat(<f32>NaN);
  let i = 0;
  for (; least != 0 && i + 4 <= n; i += 4, top += 16) {
    const values = v128.load(top);
    const reached = f32x4.ge(values, bound);
    const shorts = i16x8.narrow_i32x4_s(reached, reached);
    v128.store32_lane(mask + i, v128.and(i8x16.narrow_i16x8_s(shorts, shorts), i8x16.splat(1)), 0);
    v128.store(top, v128.bitselect(values, unread, f32x4.eq(f32x4.mul(values, none), none)));
  }
  for (; i < n; i++, top += 4) {
    const value = load<f32>(top);
    store<u8>(mask + i, <f64>value >= level ? 1 : 0);
    if (!(value * 0 == 0)) store<f32>(top, NaN);
  }
}

/** A picture less a surface of second order. smooth-drift.ts. @param surface f64, six terms. */
export function takeSurface(data: usize, width: i32, height: i32, surface: usize, out: usize): void {
  const curve = load<f64>(surface, 24);
  for (let y = 0; y < height; y++) {
    const v = <f64>(2 * y) / <f64>(height - 1) - 1;
    const atZero =
      load<f64>(surface) + load<f64>(surface, 16) * v + load<f64>(surface, 32) * (v * v - 1.0 / 3.0) - curve / 3;
    const slope = load<f64>(surface, 8) + load<f64>(surface, 40) * v;
    for (let x = 0; x < width; x++, data += 4, out += 4) {
      const u = <f64>(2 * x) / <f64>(width - 1) - 1;
      store<f32>(out, <f32>(<f64>load<f32>(data) - (atZero + u * (slope + curve * u))));
    }
  }
}

/** Squared sum of the residuals ÷ noise of each square block of pixels, ÷ their count, where half of them or more take part.
 *  residual-scale.ts. @param out f64, room for all blocks. @returns how many there are.
 */
export function blockEnergies(
  residual: usize,
  variance: usize,
  width: i32,
  height: i32,
  side: i32,
  out: usize,
): i32 {
  const from = out;
  for (let y0 = 0; y0 < height; y0 += side) {
    for (let x0 = 0; x0 < width; x0 += side) {
      let sum: f64 = 0;
      let count = 0;
      for (let y = y0; y < min(height, y0 + side); y++) {
        for (let x = x0; x < min(width, x0 + side); x++) {
          const i = <usize>(y * width + x) << 2;
          const z = <f64>load<f32>(residual + i) / sqrt(<f64>load<f32>(variance + i));
          if (!(z * 0 == 0)) continue;
          sum += z;
          count++;
        }
      }
      if (2 * count < side * side) continue;
      store<f64>(out, (sum * sum) / <f64>count);
      out += 8;
    }
  }
  return <i32>((out - from) >> 3);
}
