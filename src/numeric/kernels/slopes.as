// kernels: pictures → how their pixels differ from those beside them. As in the files named at each.
import { pairAt, storePair } from "./pixels";

/** Mark what is not steep on either side, in steps of `stride`. line-pattern.ts.
 *  @param slope f32, NaN = none. @param clear u8, written: 1 where neither a pixel's slope nor that beside it is above the limit.
 */
export function markClear(slope: usize, n: i32, stride: i32, limit: f64, clear: usize): void {
  // The largest number of f32 that is not above the limit: a slope of f32 is above both or neither.
  let most = <f32>limit;
  if (<f64>most > limit) most = reinterpret<f32>(reinterpret<i32>(most) - 1);
  const bound = f32x4.splat(most);
  const far = <usize>stride << 2;
  for (let i = 0; i < n; ) {
    const at = slope + (<usize>i << 2);
    if (most > 0 && i >= stride && i + 4 + stride <= n) {
      const here = f32x4.gt(f32x4.abs(v128.load(at)), bound);
      const beside = v128.or(f32x4.gt(f32x4.abs(v128.load(at - far)), bound), f32x4.gt(f32x4.abs(v128.load(at + far)), bound));
      const shorts = i16x8.narrow_i32x4_s(v128.or(here, beside), here);
      const bytes = i8x16.add(i8x16.narrow_i16x8_s(shorts, shorts), i8x16.splat(1));
      v128.store32_lane(clear + i, bytes, 0);
      i += 4;
      continue;
    }
    const steep =
      isSteep(slope, i - stride, n, limit) || isSteep(slope, i, n, limit) || isSteep(slope, i + stride, n, limit);
    // Without any slope a pixel is clear, unless there is no limit either.
    store<u8>(clear + i, !steep && limit >= 0 ? 1 : 0);
    i++;
  }
}

@inline
function isSteep(slope: usize, i: i32, n: i32, limit: f64): bool {
  return i >= 0 && i < n && abs(<f64>load<f32>(slope + (<usize>i << 2))) > limit;
}

/** Sort pixels into those at edges and those clear of them. edge-samples.ts.
 *  @param sparse whether every other pixel is enough. @param flat u8, zeros at first. @param places i32, room for all.
 *  @returns how many places there are.
 */
export function findEdges(
  data: usize,
  width: i32,
  height: i32,
  least: f64,
  sparse: bool,
  flat: usize,
  places: usize,
): i32 {
  const from = places;
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      const i = y * width + x;
      const at = data + (<usize>i << 2);
      const across = <f64>load<f32>(at + 4) - <f64>load<f32>(at - 4);
      const down = downFrom(at, width);
      const s = across * across + down * down;
      if (s < least) store<u8>(flat + i, 1);
      else if (s >= least && load<f32>(at) * 0 == 0 && !(sparse && ((x + y) & 1) == 1)) {
        store<i32>(places, i);
        places += 4;
      }
    }
  }
  return <i32>((places - from) >> 2);
}

@inline
function downFrom(at: usize, width: i32): f64 {
  const row = <usize>width << 2;
  return <f64>load<f32>(at + row) - <f64>load<f32>(at - row);
}

/** How steep a picture is; 0 at the border and beside missing readings. scene-gradient.ts. @param out f32, zeros at first. */
export function steepness(data: usize, width: i32, height: i32, out: usize): void {
  const row = <usize>width << 2;
  for (let y = 1; y < height - 1; y++) {
    let x = 1;
    for (; x + 2 < width; x += 2) {
      const i = <usize>(y * width + x) << 2;
      const at = data + i;
      const across = f64x2.sub(pairAt(at + 4), pairAt(at - 4));
      const down = f64x2.sub(pairAt(at + row), pairAt(at - row));
      const g = f64x2.div(f64x2.sqrt(f64x2.add(f64x2.mul(across, across), f64x2.mul(down, down))), f64x2.splat(2));
      const known = f64x2.eq(f64x2.mul(g, f64x2.splat(0)), f64x2.splat(0));
      storePair(out + i, v128.and(g, known));
    }
    for (; x < width - 1; x++) {
      const i = <usize>(y * width + x) << 2;
      const at = data + i;
      const across = <f64>load<f32>(at + 4) - <f64>load<f32>(at - 4);
      const down = downFrom(at, width);
      const g = sqrt(across * across + down * down) / 2;
      if (g * 0 == 0) store<f32>(out + i, <f32>g);
    }
  }
}

/** Sizes of what each pixel differs by from the mean of its left and right neighbours. line-detail.ts.
 *  @param out f32, room for all. @returns how many there are.
 */
export function lineDetail(data: usize, width: i32, height: i32, out: usize): i32 {
  const from = out;
  for (let y = 0; y < height; y++) {
    for (let x = 1; x < width - 1; ) {
      const at = data + (<usize>(y * width + x) << 2);
      if (x + 2 < width) {
        const pair = f64x2.abs(f64x2.sub(pairAt(at), f64x2.mul(f64x2.splat(0.5), f64x2.add(pairAt(at - 4), pairAt(at + 4)))));
        if (i64x2.all_true(f64x2.eq(f64x2.mul(pair, f64x2.splat(0)), f64x2.splat(0)))) {
          storePair(out, pair);
          out += 8;
          x += 2;
          continue;
        }
      }
      const d = <f64>load<f32>(at) - 0.5 * (<f64>load<f32>(at - 4) + <f64>load<f32>(at + 4));
      x++;
      if (!(d * 0 == 0)) continue;
      store<f32>(out, <f32>abs(d));
      out += 4;
    }
  }
  return <i32>((out - from) >> 2);
}

/** Sum of the products of what each pixel of two pictures differs by from the four beside it, in every other row, over the
 *  pixels marked. find-movement.ts. @param marked u8. @param sum f64, written. @returns how many took part.
 */
export function sharedDetail(a: usize, b: usize, width: i32, height: i32, marked: usize, sum: usize): i32 {
  let total: f64 = 0;
  let count = 0;
  for (let y = 1; y < height - 1; y += 2) {
    for (let i = y * width + 1; i < (y + 1) * width - 1; i++) {
      if (load<u8>(marked + i) == 0) continue;
      const at = <usize>i << 2;
      const product = aboveFour(a + at, width) * aboveFour(b + at, width);
      if (!(product * 0 == 0)) continue;
      total += product;
      count++;
    }
  }
  store<f64>(sum, total);
  return count;
}

@inline
function aboveFour(at: usize, width: i32): f64 {
  const row = <usize>width << 2;
  const beside = <f64>load<f32>(at - 4) + <f64>load<f32>(at + 4) + <f64>load<f32>(at - row) + <f64>load<f32>(at + row);
  return <f64>load<f32>(at) - beside / 4;
}

/** Half the step over each pixel along x and along y, and what a turn about the middle makes of both, ÷ arm.
 *  shift-steps.ts. @param across @param down @param turn f32, zeros at first.
 */
export function shiftSteps(
  data: usize,
  width: i32,
  height: i32,
  arm: f64,
  across: usize,
  down: usize,
  turn: usize,
): void {
  const middleX = <f64>(width - 1) / 2;
  const middleY = <f64>(height - 1) / 2;
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      const i = <usize>(y * width + x) << 2;
      const dx = 0.5 * (<f64>load<f32>(data + i + 4) - <f64>load<f32>(data + i - 4));
      const dy = 0.5 * downFrom(data + i, width);
      if (!(dx * 0 == 0) || !(dy * 0 == 0)) continue;
      store<f32>(across + i, <f32>dx);
      store<f32>(down + i, <f32>dy);
      store<f32>(turn + i, <f32>((dy * (<f64>x - middleX) - dx * (<f64>y - middleY)) / arm));
    }
  }
}
