// kernels: a moved pair → where it reads, which pixels take part, and what their detail tells. As in resolve-pattern.ts.
import { pairAt, storePair } from "./pixels";

/** A pixel less its average under the weights 1 2 1 each way. */
@inline
export function fineDetail(values: usize, i: i32, width: i32): f64 {
  const at = values + (<usize>i << 2);
  const above = at - (<usize>width << 2);
  const below = at + (<usize>width << 2);
  const sides = <f64>load<f32>(at - 4) + <f64>load<f32>(at + 4) + <f64>load<f32>(above) + <f64>load<f32>(below);
  const corners =
    <f64>load<f32>(above - 4) + <f64>load<f32>(above + 4) + <f64>load<f32>(below - 4) + <f64>load<f32>(below + 4);
  return 0.75 * <f64>load<f32>(at) - 0.125 * sides - 0.0625 * corners;
}

/** The same of two pixels side by side. */
@inline
export function detailPair(at: usize, width: i32): v128 {
  const above = at - (<usize>width << 2);
  const below = at + (<usize>width << 2);
  const beside = f64x2.add(pairAt(at - 4), pairAt(at + 4));
  const sides = f64x2.add(f64x2.add(beside, pairAt(above)), pairAt(below));
  const upper = f64x2.add(pairAt(above - 4), pairAt(above + 4));
  const corners = f64x2.add(f64x2.add(upper, pairAt(below - 4)), pairAt(below + 4));
  const own = f64x2.mul(f64x2.splat(0.75), pairAt(at));
  return f64x2.sub(f64x2.sub(own, f64x2.mul(f64x2.splat(0.125), sides)), f64x2.mul(f64x2.splat(0.0625), corners));
}

@inline
function marked(marks: usize, i: i32): bool {
  return marks != 0 && load<u8>(marks + <usize>i) == 1;
}

/** Where each pixel of the difference read the powered frame.
 *  @param a … f the map. @param at i32 per pixel, the upper left one of four, −1 where it lies outside.
 */
export function readsOf(
  width: i32,
  height: i32,
  a: f64,
  b: f64,
  c: f64,
  d: f64,
  e: f64,
  f: f64,
  at: usize,
): void {
  const lastX = f64x2.splat(<f64>(width - 1));
  const lastY = f64x2.splat(<f64>(height - 1));
  const none = f64x2.splat(0);
  for (let y = 0; y < height; y++) {
    const upX = f64x2.splat(b * <f64>y);
    const upY = f64x2.splat(e * <f64>y);
    for (let x = 0; x < width; x += 2, at += 8) {
      const u = f64x2.floor(f64x2.add(f64x2.add(f64x2.mul(f64x2.splat(a), side(x)), upX), f64x2.splat(c)));
      const v = f64x2.floor(f64x2.add(f64x2.add(f64x2.mul(f64x2.splat(d), side(x)), upY), f64x2.splat(f)));
      const low = v128.and(f64x2.ge(u, none), f64x2.ge(v, none));
      const inside = v128.and(low, v128.and(f64x2.lt(u, lastX), f64x2.lt(v, lastY)));
      const rows = i32x4.mul(i32x4.trunc_sat_f64x2_s_zero(v), i32x4.splat(width));
      const place = i32x4.add(rows, i32x4.trunc_sat_f64x2_s_zero(u));
      // Outside all bits are set.
      const kept = v128.or(place, v128.not(v128.shuffle<i32>(inside, inside, 0, 2, 0, 2)));
      if (x + 1 < width) v128.store64_lane(at, kept, 0);
      else {
        v128.store32_lane(at, kept, 0);
        at -= 4;
      }
    }
  }
}

/** With what weights some pixels read their four.
 *  @param pixels i32, `count` numbers of pixels. @param weights four f32 for each of those.
 */
export function readWeights(
  pixels: usize,
  count: i32,
  width: i32,
  a: f64,
  b: f64,
  c: f64,
  d: f64,
  e: f64,
  f: f64,
  weights: usize,
): void {
  for (let j = 0; j < count; j++) {
    const i = load<i32>(pixels + (<usize>j << 2));
    const y = i / width;
    const x = <f64>(i - y * width);
    const u = a * x + b * <f64>y + c;
    const v = d * x + e * <f64>y + f;
    const s = u - Math.floor(u);
    const t = v - Math.floor(v);
    const to = weights + (<usize>j << 4);
    store<f32>(to, <f32>((1 - s) * (1 - t)));
    store<f32>(to, <f32>(s * (1 - t)), 4);
    store<f32>(to, <f32>((1 - s) * t), 8);
    store<f32>(to, <f32>(s * t), 12);
  }
}

/** A number and the next one. */
@inline
function side(x: i32): v128 {
  return f64x2.add(f64x2.splat(<f64>x), f64x2(0, 1));
}

/** Which pixels take part: lists of their numbers, rising, and how long each is; and what the difference's fine detail is where it
 *  shows some of the pattern, and how much it tells of it.
 *  @param scale f32, not negative. @param rise @param scene f32. @param mirrors u8, 1 = no guide; 0: none.
 *  @param at as `readsOf` tells it. @param near scratch, u8, one per pixel, zeros.
 *  @param hidden @param showing @param reads @param inside @param compared i32, room for all pixels each; `reads` tells where the pixels
 *  of `showing` read, `inside` places in `showing`. @param detail @param weight f32, of what is compared, room for all pixels.
 *  @param counts four i32: of what is hidden, shows, is inside and is compared.
 */
export function involved(
  scale: usize,
  rise: usize,
  scene: usize,
  mirrors: usize,
  at: usize,
  width: i32,
  height: i32,
  noise2: f64,
  shift2: f64,
  near: usize,
  hidden: usize,
  showing: usize,
  reads: usize,
  inside: usize,
  compared: usize,
  detail: usize,
  weight: usize,
  counts: usize,
): void {
  const n = width * height;
  store<i32>(counts, listHidden(scale, n, hidden));
  listShowing(scale, at, width, height, near, showing, reads, inside, counts);
  let count: usize = 0;
  for (let y = 1; y < height - 1; y++) {
    let i = y * width + 1;
    const end = (y + 1) * width - 1;
    while (i < end) {
      if (load<u8>(near + i) == 0) {
        i += i + 16 <= end && !v128.any_true(v128.load(near + i)) ? 16 : 1;
        continue;
      }
      const own = <usize>i << 2;
      const below = own + (<usize>width << 2);
      const above = own - (<usize>width << 2);
      if (i + 1 < end && load<u8>(near + i + 1) == 1 && !marked(mirrors, i) && !marked(mirrors, i + 1)) {
        const pair = detailPair(rise + own, width);
        const right = f64x2.sub(pairAt(scene + own + 4), pairAt(scene + own - 4));
        const down = f64x2.sub(pairAt(scene + below), pairAt(scene + above));
        const slope2 = f64x2.mul(f64x2.splat(0.25), f64x2.add(f64x2.mul(right, right), f64x2.mul(down, down)));
        const spread = f64x2.add(f64x2.splat(noise2), f64x2.mul(f64x2.splat(shift2), slope2));
        const told = f32x4.demote_f64x2_zero(f64x2.div(f64x2.splat(1), spread));
        const both = f64x2.mul(f64x2.add(pair, slope2), f64x2.splat(0));
        if (i64x2.all_true(f64x2.eq(both, f64x2.splat(0))) && (i32x4.bitmask(f32x4.gt(told, f32x4.splat(0))) & 3) == 3) {
          store<i32>(compared + count, i);
          store<i32>(compared + count, i + 1, 4);
          storePair(detail + count, pair);
          v128.store64_lane(weight + count, told, 0);
          count += 8;
          i += 2;
          continue;
        }
      }
      const d = fineDetail(rise, i, width);
      const across = <f64>load<f32>(scene + own + 4) - <f64>load<f32>(scene + own - 4);
      const down = <f64>load<f32>(scene + below) - <f64>load<f32>(scene + above);
      const slope2 = 0.25 * (across * across + down * down);
      const told = <f32>(1 / (noise2 + shift2 * slope2));
      if ((d + slope2) * 0 == 0 && !marked(mirrors, i) && told > 0) {
        store<i32>(compared + count, i);
        store<f32>(detail + count, <f32>d);
        store<f32>(weight + count, told);
        count += 4;
      }
      i++;
    }
  }
  store<i32>(counts, <i32>(count >> 2), 12);
}

/** @returns how many there are. */
function listHidden(scale: usize, n: i32, hidden: usize): i32 {
  const from = hidden;
  for (let i = 0; i < n; ) {
    const at = scale + (<usize>i << 2);
    if (i + 4 <= n && !v128.any_true(f32x4.gt(v128.load(at), f32x4.splat(0)))) {
      i += 4;
      continue;
    }
    if (load<f32>(at) > 0) {
      store<i32>(hidden, i);
      hidden += 4;
    }
    i++;
  }
  return <i32>((hidden - from) >> 2);
}

/** Those where the difference shows something, what is near them, and how many; see `involved`. */
function listShowing(
  scale: usize,
  at: usize,
  width: i32,
  height: i32,
  near: usize,
  showing: usize,
  reads: usize,
  inside: usize,
  counts: usize,
): void {
  const row = <usize>width << 2;
  let shows = 0;
  let within = 0;
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; ) {
      const i = y * width + x;
      const own = <usize>i << 2;
      const k = load<i32>(at + own);
      if (x + 4 <= width) {
        const four = v128.load(at + own);
        const read = scale + (<usize>k << 2);
        if (k >= 0 && i32x4.all_true(i32x4.eq(four, i32x4.add(i32x4.splat(k), i32x4(0, 1, 2, 3))))) {
          const upper = f32x4.add(v128.load(read), v128.load(read, 4));
          const lower = f32x4.add(v128.load(read + row), v128.load(read + row, 4));
          const sum = f32x4.add(v128.load(scale + own), f32x4.add(upper, lower));
          if (!v128.any_true(f32x4.gt(sum, f32x4.splat(0)))) {
            x += 4;
            continue;
          }
        } else if (i32x4.all_true(i32x4.lt_s(four, i32x4.splat(0)))) {
          x += 4;
          continue;
        }
      }
      x++;
      if (k < 0) continue;
      const read = scale + (<usize>k << 2);
      const upper = <f64>load<f32>(read) + <f64>load<f32>(read, 4);
      const lower = <f64>load<f32>(read + row) + <f64>load<f32>(read + row, 4);
      if (!(<f64>load<f32>(scale + own) + upper + lower > 0)) continue;
      store<i32>(showing + (<usize>shows << 2), i);
      store<i32>(reads + (<usize>shows << 2), k);
      if (y != 0 && y != height - 1 && x != 1 && x != width) {
        store<i32>(inside + (<usize>within << 2), shows);
        within++;
      }
      shows++;
      for (let v = max(0, y - 1); v <= min(height - 1, y + 1); v++) {
        const middle = near + v * width + x - 1;
        store<u8>(middle, 1);
        if (x > 1) store<u8>(middle - 1, 1);
        if (x < width) store<u8>(middle + 1, 1);
      }
    }
  }
  store<i32>(counts, shows, 4);
  store<i32>(counts, within, 8);
}
