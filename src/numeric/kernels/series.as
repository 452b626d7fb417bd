// kernels: frames one after the other, `stride` bytes apart, some pixels of each → sums over the frames at each pixel. Lanes are
// pixels: the sums of one are those of the plain code, in its order. As in average-frames.ts, temporal-noise.ts,
// weigh-frames.ts and frame-places.ts.
import { storePair } from "./pixels";

/** Noise from successive frames, √(Σ(next − this)² / (2·(frames−1))), and the mean plus `meanOffset`, of readings less the
 *  offset of their frame. Frames may come in several calls, some at a time in their order: the last call writes what is found.
 *  @param stack f32, with room for 8 pixels more. @param from the first of these frames, @param frames of all there are.
 *  @param offsets f64, one for each of all frames. @param state where sums wait between calls, 24 bytes a pixel; unused if all
 *  come at once. @param noise @param mean f32.
 *  @param odd u8 per pixel: 1 where a reading is missing or infinite, and the plain code has to be asked. What is written has
 *  room for 3 pixels more.
 */
export function successive(
  stack: usize,
  stride: usize,
  from: i32,
  count: i32,
  frames: i32,
  pixels: i32,
  offsets: usize,
  meanOffset: f64,
  state: usize,
  noise: usize,
  mean: usize,
  odd: usize,
): void {
  const steps = f64x2.splat(2 * (<f64>frames - 1));
  const all = f64x2.splat(<f64>frames);
  const level = f64x2.splat(meanOffset);
  const end = from + count;
  for (let p = 0; p < pixels; p += 4, state += 96) {
    let at = stack + (<usize>p << 2);
    let k = from;
    let before0: v128;
    let before1: v128;
    let sum0: v128;
    let sum1: v128;
    let square0: v128;
    let square1: v128;
    if (from == 0) {
      const first = f64x2.splat(load<f64>(offsets));
      before0 = f64x2.sub(f64x2.promote_low_f32x4(v128.load64_zero(at)), first);
      before1 = f64x2.sub(f64x2.promote_low_f32x4(v128.load64_zero(at, 8)), first);
      // The plain sum begins at 0.
      sum0 = f64x2.add(f64x2.splat(0), before0);
      sum1 = f64x2.add(f64x2.splat(0), before1);
      square0 = f64x2.splat(0);
      square1 = f64x2.splat(0);
      at += stride;
      k = 1;
    } else {
      before0 = v128.load(state);
      before1 = v128.load(state, 16);
      sum0 = v128.load(state, 32);
      sum1 = v128.load(state, 48);
      square0 = v128.load(state, 64);
      square1 = v128.load(state, 80);
    }
    for (; k < end; k++, at += stride) {
      const offset = v128.load64_splat(offsets + (<usize>k << 3));
      const value0 = f64x2.sub(f64x2.promote_low_f32x4(v128.load64_zero(at)), offset);
      const value1 = f64x2.sub(f64x2.promote_low_f32x4(v128.load64_zero(at, 8)), offset);
      const step0 = f64x2.sub(value0, before0);
      const step1 = f64x2.sub(value1, before1);
      square0 = f64x2.add(square0, f64x2.mul(step0, step0));
      square1 = f64x2.add(square1, f64x2.mul(step1, step1));
      sum0 = f64x2.add(sum0, value0);
      sum1 = f64x2.add(sum1, value1);
      before0 = value0;
      before1 = value1;
    }
    if (end < frames) {
      v128.store(state, before0);
      v128.store(state, before1, 16);
      v128.store(state, sum0, 32);
      v128.store(state, sum1, 48);
      v128.store(state, square0, 64);
      v128.store(state, square1, 80);
      continue;
    }
    const to = <usize>p << 2;
    storePair(noise + to, f64x2.sqrt(f64x2.div(square0, steps)));
    storePair(noise + to + 8, f64x2.sqrt(f64x2.div(square1, steps)));
    storePair(mean + to, f64x2.add(f64x2.div(sum0, all), level));
    storePair(mean + to + 8, f64x2.add(f64x2.div(sum1, all), level));
    markOdd(odd + <usize>p, sum0, sum1);
  }
}

/** The mean plus `meanOffset` of the pixels of which no reading can be an outlier: where the furthest is within `limit` of the
 *  mean even if the median lies a standard deviation beyond it.
 *  @param odd u8 per pixel: 1 where the plain code has to be asked, for this or for a missing reading. Room as above.
 */
export function steadyMean(
  stack: usize,
  stride: usize,
  count: i32,
  pixels: i32,
  offsets: usize,
  meanOffset: f64,
  limit: f64,
  mean: usize,
  odd: usize,
): void {
  const all = f64x2.splat(<f64>count);
  const level = f64x2.splat(meanOffset);
  const most = f64x2.splat(limit);
  for (let p = 0; p < pixels; p += 4) {
    const from = stack + (<usize>p << 2);
    let sum0 = f64x2.splat(0);
    let sum1 = f64x2.splat(0);
    for (let k = 0, at = from; k < count; k++, at += stride) {
      const offset = v128.load64_splat(offsets + (<usize>k << 3));
      sum0 = f64x2.add(sum0, f64x2.sub(f64x2.promote_low_f32x4(v128.load64_zero(at)), offset));
      sum1 = f64x2.add(sum1, f64x2.sub(f64x2.promote_low_f32x4(v128.load64_zero(at, 8)), offset));
    }
    const mean0 = f64x2.div(sum0, all);
    const mean1 = f64x2.div(sum1, all);
    let square0 = f64x2.splat(0);
    let square1 = f64x2.splat(0);
    let far0 = f64x2.splat(0);
    let far1 = f64x2.splat(0);
    for (let k = 0, at = from; k < count; k++, at += stride) {
      const offset = v128.load64_splat(offsets + (<usize>k << 3));
      const value0 = f64x2.sub(f64x2.promote_low_f32x4(v128.load64_zero(at)), offset);
      const value1 = f64x2.sub(f64x2.promote_low_f32x4(v128.load64_zero(at, 8)), offset);
      const distance0 = f64x2.abs(f64x2.sub(value0, mean0));
      const distance1 = f64x2.abs(f64x2.sub(value1, mean1));
      square0 = f64x2.add(square0, f64x2.mul(distance0, distance0));
      square1 = f64x2.add(square1, f64x2.mul(distance1, distance1));
      far0 = f64x2.max(far0, distance0);
      far1 = f64x2.max(far1, distance1);
    }
    const steady0 = f64x2.le(f64x2.add(far0, f64x2.sqrt(f64x2.div(square0, all))), most);
    const steady1 = f64x2.le(f64x2.add(far1, f64x2.sqrt(f64x2.div(square1, all))), most);
    const to = <usize>p << 2;
    storePair(mean + to, f64x2.add(mean0, level));
    storePair(mean + to + 8, f64x2.add(mean1, level));
    const mark = odd + <usize>p;
    store<u8>(mark, i64x2.extract_lane(steady0, 0) == 0 ? 1 : 0);
    store<u8>(mark, i64x2.extract_lane(steady0, 1) == 0 ? 1 : 0, 1);
    store<u8>(mark, i64x2.extract_lane(steady1, 0) == 0 ? 1 : 0, 2);
    store<u8>(mark, i64x2.extract_lane(steady1, 1) == 0 ? 1 : 0, 3);
  }
}

/** Add to each pixel the square of what courses leave of its readings. Frames may come in several calls, some at a time in their
 *  order: the last call adds.
 *  @param stack f32, with room for 8 pixels more. @param from the first of these frames, @param frames of all there are.
 *  @param offsets f64, one for each of all frames. @param courses f64, orthonormal, `frames` numbers each.
 *  @param values scratch, 64 bytes for each of these frames. @param state where sums wait between calls, 8 · (2 + courses) bytes a
 *  pixel; of 8 pixels if all come at once. @param squares f64, added to, with room for 8 more.
 */
export function leftSquares(
  stack: usize,
  stride: usize,
  from: i32,
  count: i32,
  frames: i32,
  pixels: i32,
  offsets: usize,
  courses: usize,
  courseCount: i32,
  values: usize,
  state: usize,
  squares: usize,
): void {
  const begins = from == 0;
  const ends = from + count == frames;
  const own = <usize>(2 + courseCount) << 6;
  const theirs = offsets + (<usize>from << 3);
  for (let p = 0; p < pixels; p += 8) {
    let at = stack + (<usize>p << 2);
    if (begins) {
      v128.store(state, f64x2.promote_low_f32x4(v128.load64_zero(at)));
      v128.store(state, f64x2.promote_low_f32x4(v128.load64_zero(at, 8)), 16);
      v128.store(state, f64x2.promote_low_f32x4(v128.load64_zero(at, 16)), 32);
      v128.store(state, f64x2.promote_low_f32x4(v128.load64_zero(at, 24)), 48);
      memory.fill(state + 64, 0, own - 64);
    }
    const origin0 = v128.load(state);
    const origin1 = v128.load(state, 16);
    const origin2 = v128.load(state, 32);
    const origin3 = v128.load(state, 48);
    let square0 = v128.load(state, 64);
    let square1 = v128.load(state, 80);
    let square2 = v128.load(state, 96);
    let square3 = v128.load(state, 112);
    let to = values;
    for (let k = 0; k < count; k++) {
      const offset = v128.load64_splat(theirs + (<usize>k << 3));
      const value0 = lessTwo(f64x2.promote_low_f32x4(v128.load64_zero(at)), origin0, offset);
      const value1 = lessTwo(f64x2.promote_low_f32x4(v128.load64_zero(at, 8)), origin1, offset);
      const value2 = lessTwo(f64x2.promote_low_f32x4(v128.load64_zero(at, 16)), origin2, offset);
      const value3 = lessTwo(f64x2.promote_low_f32x4(v128.load64_zero(at, 24)), origin3, offset);
      v128.store(to, value0);
      v128.store(to, value1, 16);
      v128.store(to, value2, 32);
      v128.store(to, value3, 48);
      square0 = f64x2.add(square0, f64x2.mul(value0, value0));
      square1 = f64x2.add(square1, f64x2.mul(value1, value1));
      square2 = f64x2.add(square2, f64x2.mul(value2, value2));
      square3 = f64x2.add(square3, f64x2.mul(value3, value3));
      to += 64;
      at += stride;
    }
    if (!ends) {
      v128.store(state, square0, 64);
      v128.store(state, square1, 80);
      v128.store(state, square2, 96);
      v128.store(state, square3, 112);
    }
    let shares = state + 128;
    for (let j = 0; j < courseCount; j++, shares += 64) {
      const course = courses + (<usize>(j * frames + from) << 3);
      let share0 = v128.load(shares);
      let share1 = v128.load(shares, 16);
      let share2 = v128.load(shares, 32);
      let share3 = v128.load(shares, 48);
      let value = values;
      for (let k = 0; k < count; k++) {
        const height = v128.load64_splat(course + (<usize>k << 3));
        share0 = f64x2.add(share0, f64x2.mul(height, v128.load(value)));
        share1 = f64x2.add(share1, f64x2.mul(height, v128.load(value, 16)));
        share2 = f64x2.add(share2, f64x2.mul(height, v128.load(value, 32)));
        share3 = f64x2.add(share3, f64x2.mul(height, v128.load(value, 48)));
        value += 64;
      }
      if (ends) {
        square0 = f64x2.sub(square0, f64x2.mul(share0, share0));
        square1 = f64x2.sub(square1, f64x2.mul(share1, share1));
        square2 = f64x2.sub(square2, f64x2.mul(share2, share2));
        square3 = f64x2.sub(square3, f64x2.mul(share3, share3));
      } else {
        v128.store(shares, share0);
        v128.store(shares, share1, 16);
        v128.store(shares, share2, 32);
        v128.store(shares, share3, 48);
      }
    }
    // All at once need the state frames these pixels only until they are done.
    if (!begins || !ends) state += own;
    if (!ends) continue;
    const sums = squares + (<usize>p << 3);
    v128.store(sums, f64x2.add(v128.load(sums), square0));
    v128.store(sums, f64x2.add(v128.load(sums, 16), square1), 16);
    v128.store(sums, f64x2.add(v128.load(sums, 32), square2), 32);
    v128.store(sums, f64x2.add(v128.load(sums, 48), square3), 48);
  }
}

/** Add a weighted frame less its offset to sums, and its weight to what is missing where it has no reading.
 *  @param data f32. @param sums @param missing f64; all with room for one more.
 */
export function weighFrame(
  data: usize,
  n: i32,
  weight: f64,
  offset: f64,
  sums: usize,
  missing: usize,
): void {
  const by = f64x2.splat(weight);
  const less = f64x2.splat(offset);
  const zero = f64x2.splat(0);
  for (let i = 0; i < n; i += 2) {
    const value = f64x2.sub(f64x2.promote_low_f32x4(v128.load64_zero(data)), less);
    const known = f64x2.eq(f64x2.mul(value, zero), zero);
    const sum = v128.load(sums);
    v128.store(sums, v128.bitselect(f64x2.add(sum, f64x2.mul(by, value)), sum, known));
    if (!i64x2.all_true(known)) {
      const lacking = v128.load(missing);
      v128.store(missing, v128.bitselect(lacking, f64x2.add(lacking, by), known));
    }
    data += 8;
    sums += 16;
    missing += 16;
  }
}

/** Average a frame over square cells, row by row of pixels.
 *  @param data f32. @param w @param h cells. @param out f32.
 */
export function cellMeans(data: usize, width: i32, side: i32, w: i32, h: i32, out: usize): void {
  const pixels = <f64>(side * side);
  const across = <usize>side << 2;
  memory.fill(out, 0, <usize>(w * h) << 2);
  for (let y = 0; y < h * side; y++) {
    let at = data + (<usize>(y * width) << 2);
    let to = out + (<usize>((y / side) * w) << 2);
    let x = 0;
    // Four cells at a time: each sum waits for the one before it.
    for (; x + 4 <= w; x += 4) {
      let sum0: f64 = 0;
      let sum1: f64 = 0;
      let sum2: f64 = 0;
      let sum3: f64 = 0;
      for (let k = 0; k < side; k++) {
        sum0 += <f64>load<f32>(at);
        sum1 += <f64>load<f32>(at + across);
        sum2 += <f64>load<f32>(at + 2 * across);
        sum3 += <f64>load<f32>(at + 3 * across);
        at += 4;
      }
      at += 3 * across;
      addCell(to, sum0 / pixels);
      addCell(to + 4, sum1 / pixels);
      addCell(to + 8, sum2 / pixels);
      addCell(to + 12, sum3 / pixels);
      to += 16;
    }
    for (; x < w; x++) {
      let sum: f64 = 0;
      for (let k = 0; k < side; k++, at += 4) sum += <f64>load<f32>(at);
      addCell(to, sum / pixels);
      to += 4;
    }
  }
}

@inline
function addCell(at: usize, by: f64): void {
  store<f32>(at, <f32>(<f64>load<f32>(at) + by));
}

@inline
function lessTwo(value: v128, origin: v128, offset: v128): v128 {
  return f64x2.sub(f64x2.sub(value, origin), offset);
}

@inline
function markOdd(to: usize, sum0: v128, sum1: v128): void {
  const zero = f64x2.splat(0);
  const known0 = f64x2.eq(f64x2.mul(sum0, zero), zero);
  const known1 = f64x2.eq(f64x2.mul(sum1, zero), zero);
  store<u8>(to, i64x2.extract_lane(known0, 0) == 0 ? 1 : 0);
  store<u8>(to, i64x2.extract_lane(known0, 1) == 0 ? 1 : 0, 1);
  store<u8>(to, i64x2.extract_lane(known1, 0) == 0 ? 1 : 0, 2);
  store<u8>(to, i64x2.extract_lane(known1, 1) == 0 ? 1 : 0, 3);
}
