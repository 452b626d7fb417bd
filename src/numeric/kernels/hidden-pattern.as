// kernels: a moved pair's difference → the part of the sensor's pattern that edges had hidden. As in resolve-pattern.ts.
import { pairAt, storePair } from "./pixels";

/** A pixel less its average under the weights 1 2 1 each way. */
@inline
function fineDetail(values: usize, i: i32, width: i32): f64 {
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
function detailPair(at: usize, width: i32): v128 {
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
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; ) {
      const u = f64x2.add(f64x2.add(f64x2.mul(f64x2.splat(a), side(x)), f64x2.splat(b * <f64>y)), f64x2.splat(c));
      const v = f64x2.add(f64x2.add(f64x2.mul(f64x2.splat(d), side(x)), f64x2.splat(e * <f64>y)), f64x2.splat(f));
      const u0 = f64x2.floor(u);
      const v0 = f64x2.floor(v);
      const row = at + (<usize>(y * width + x) << 2);
      keepPlace(f64x2.extract_lane(u0, 0), f64x2.extract_lane(v0, 0), width, height, row);
      x++;
      if (x == width) break;
      keepPlace(f64x2.extract_lane(u0, 1), f64x2.extract_lane(v0, 1), width, height, row + 4);
      x++;
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

/** The place of the upper left one of four pixels; −1 where one of them lies outside. */
@inline
function keepPlace(u: f64, v: f64, width: i32, height: i32, to: usize): void {
  const inside = u >= 0 && v >= 0 && u + 1 < <f64>width && v + 1 < <f64>height;
  store<i32>(to, inside ? <i32>v * width + <i32>u : -1);
}

/** The difference's fine detail, and how much it tells of the pattern; both stay 0 where it tells nothing.
 *  @param rise @param scene f32. @param mirrors u8, 1 = no guide; 0: none. @param detail @param weight f32.
 */
export function weighDetail(
  rise: usize,
  scene: usize,
  mirrors: usize,
  width: i32,
  height: i32,
  noise2: f64,
  shift2: f64,
  detail: usize,
  weight: usize,
): void {
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      const i = y * width + x;
      const at = <usize>i << 2;
      if (x + 2 < width && !marked(mirrors, i) && !marked(mirrors, i + 1)) {
        const pair = detailPair(rise + at, width);
        const right = f64x2.sub(pairAt(scene + at + 4), pairAt(scene + at - 4));
        const below = f64x2.sub(pairAt(scene + at + (<usize>width << 2)), pairAt(scene + at - (<usize>width << 2)));
        const slopes = f64x2.add(f64x2.mul(right, right), f64x2.mul(below, below));
        const slope2 = f64x2.mul(f64x2.splat(0.25), slopes);
        const both = f64x2.mul(f64x2.add(pair, slope2), f64x2.splat(0));
        if (i64x2.all_true(f64x2.eq(both, f64x2.splat(0)))) {
          const spread = f64x2.add(f64x2.splat(noise2), f64x2.mul(f64x2.splat(shift2), slope2));
          storePair(detail + at, pair);
          storePair(weight + at, f64x2.div(f64x2.splat(1), spread));
          x++;
          continue;
        }
      }
      const d = fineDetail(rise, i, width);
      const across = <f64>load<f32>(scene + at + 4) - <f64>load<f32>(scene + at - 4);
      const down = <f64>load<f32>(scene + at + (<usize>width << 2)) - <f64>load<f32>(scene + at - (<usize>width << 2));
      const slope2 = 0.25 * (across * across + down * down);
      if (!((d + slope2) * 0 == 0) || marked(mirrors, i)) continue;
      store<f32>(detail + at, <f32>d);
      store<f32>(weight + at, <f32>(1 / (noise2 + shift2 * slope2)));
    }
  }
}

/** Which pixels take part: lists of their numbers, rising, and how long each is.
 *  @param scale @param weight f32. @param marks scratch, u8, two per pixel, zeros.
 *  @param hidden @param showing @param inside @param compared i32, room for all pixels each; `inside` tells places in
 *  `showing`. @param counts four i32.
 */
export function involved(
  scale: usize,
  weight: usize,
  at: usize,
  width: i32,
  n: i32,
  marks: usize,
  hidden: usize,
  showing: usize,
  inside: usize,
  compared: usize,
  counts: usize,
): void {
  const near = marks + <usize>n;
  for (let i = 0; i < n; i++) {
    const k = load<i32>(at + (<usize>i << 2));
    if (k < 0) continue;
    const read = scale + (<usize>k << 2);
    const below = read + (<usize>width << 2);
    const sum =
      <f64>load<f32>(scale + (<usize>i << 2)) +
      <f64>load<f32>(read) +
      <f64>load<f32>(read, 4) +
      <f64>load<f32>(below) +
      <f64>load<f32>(below, 4);
    if (!(sum > 0)) continue;
    store<u8>(marks + <usize>i, 1);
    for (let row = i - width; row <= i + width; row += width) {
      for (let j = row - 1; j <= row + 1; j++) if (j >= 0 && j < n) store<u8>(near + <usize>j, 1);
    }
  }
  let hiddenCount = 0;
  let showingCount = 0;
  let insideCount = 0;
  let comparedCount = 0;
  for (let i = 0; i < n; i++) {
    if (load<f32>(scale + (<usize>i << 2)) > 0) store<i32>(hidden + ((<usize>(hiddenCount++)) << 2), i);
    if (load<u8>(near + <usize>i) == 1 && load<f32>(weight + (<usize>i << 2)) > 0) {
      store<i32>(compared + ((<usize>(comparedCount++)) << 2), i);
    }
    if (load<u8>(marks + <usize>i) == 0) continue;
    store<i32>(showing + (<usize>showingCount << 2), i);
    const x = i % width;
    if (i >= width && i < n - width && x != 0 && x != width - 1) {
      store<i32>(inside + ((<usize>(insideCount++)) << 2), showingCount);
    }
    showingCount++;
  }
  store<i32>(counts, hiddenCount);
  store<i32>(counts, showingCount, 4);
  store<i32>(counts, insideCount, 8);
  store<i32>(counts, comparedCount, 12);
}

/** h − h moved, at some pixels. @param weights four for each of them. */
function forward(h: usize, pixels: usize, count: i32, at: usize, weights: usize, width: i32, out: usize): void {
  for (let j = 0; j < count; j++) {
    const i = <usize>load<i32>(pixels + (<usize>j << 2));
    const k = h + (<usize>load<i32>(at + (i << 2)) << 2);
    const w = weights + (<usize>j << 4);
    const below = k + (<usize>width << 2);
    const value =
      <f64>load<f32>(h + (i << 2)) -
      <f64>load<f32>(w) * <f64>load<f32>(k) -
      <f64>load<f32>(w, 4) * <f64>load<f32>(k, 4) -
      <f64>load<f32>(w, 8) * <f64>load<f32>(below) -
      <f64>load<f32>(w, 12) * <f64>load<f32>(below, 4);
    store<f32>(out + (i << 2), <f32>value);
  }
}

/** weight × fine detail of what is shown, at some pixels. */
function weighShown(shown: usize, weight: usize, pixels: usize, count: i32, width: i32, out: usize): void {
  for (let j = 0; j < count; j++) {
    const i = load<i32>(pixels + (<usize>j << 2));
    const at = <usize>i << 2;
    store<f32>(out + at, <f32>(<f64>load<f32>(weight + at) * fineDetail(shown, i, width)));
  }
}

/** The transposed of fine detail after `forward`, from what some pixels show.
 *  @param inside which of `pixels`, by their places there. @param n pixels of the picture.
 */
function adjoint(
  weighted: usize,
  pixels: usize,
  inside: usize,
  count: i32,
  at: usize,
  weights: usize,
  width: i32,
  n: i32,
  out: usize,
): void {
  memory.fill(out, 0, <usize>n << 2);
  for (let j = 0; j < count; j++) {
    const place = <usize>load<i32>(inside + (<usize>j << 2));
    const i = load<i32>(pixels + (place << 2));
    const k = out + (<usize>load<i32>(at + (<usize>i << 2)) << 2);
    const w = weights + (place << 4);
    const below = k + (<usize>width << 2);
    const own = out + (<usize>i << 2);
    const value = fineDetail(weighted, i, width);
    store<f32>(own, <f32>(<f64>load<f32>(own) + value));
    take(k, load<f32>(w), value);
    take(k + 4, load<f32>(w, 4), value);
    take(below, load<f32>(w, 8), value);
    take(below + 4, load<f32>(w, 12), value);
  }
}

@inline
function take(from: usize, weight: f32, value: f64): void {
  store<f32>(from, <f32>(<f64>load<f32>(from) - <f64>weight * value));
}

/** Minimise Σ w (d + F(h − h moved))² + Σ u² over u by conjugate gradients, with h = scale·u and F the fine detail.
 *  @param lists hidden, showing, inside and compared of `involved`, i32, n numbers apart. @param counts their lengths.
 *  @param weights as `readWeights` lays them for `showing`.
 *  @param scratch f32, seven pictures; the first of them becomes h. All but the third and fourth, and the last, are zeros; the
 *  third may be `detail`.
 */
export function solveHidden(
  scale: usize,
  detail: usize,
  weight: usize,
  at: usize,
  weights: usize,
  width: i32,
  n: i32,
  lists: usize,
  counts: usize,
  steps: i32,
  scratch: usize,
): void {
  const size = <usize>n << 2;
  const hidden = lists;
  const showing = hidden + size;
  const inside = showing + size;
  const compared = inside + size;
  const hiddenCount = load<i32>(counts);
  const insideCount = load<i32>(counts, 8);
  const comparedCount = load<i32>(counts, 12);
  const h = scratch;
  const u = h + size;
  const residual = u + (size << 1);
  const shown = residual + size;
  const weighted = shown + size;
  const direction = weighted + size;
  for (let j = 0; j < comparedCount; j++) {
    const i = <usize>load<i32>(compared + (<usize>j << 2)) << 2;
    store<f32>(weighted + i, <f32>(-(<f64>load<f32>(weight + i)) * <f64>load<f32>(detail + i)));
  }
  adjoint(weighted, showing, inside, insideCount, at, weights, width, n, residual);
  let rho: f64 = 0;
  for (let j = 0; j < hiddenCount; j++) {
    const i = <usize>load<i32>(hidden + (<usize>j << 2)) << 2;
    const value = <f32>(<f64>load<f32>(residual + i) * <f64>load<f32>(scale + i));
    store<f32>(residual + i, value);
    store<f32>(direction + i, value);
    rho += <f64>value * <f64>value;
  }
  // In two places, so that the compiler leaves the step a function of its own: the engine has better code of it after the first ones.
  if (steps > 0 && rho > 0) {
    rho = takeStep(scale, weight, at, weights, width, n, lists, counts, scratch, rho);
  }
  for (let step = 1; step < steps && rho > 0; step++) {
    rho = takeStep(scale, weight, at, weights, width, n, lists, counts, scratch, rho);
  }
  for (let j = 0; j < hiddenCount; j++) {
    const i = <usize>load<i32>(hidden + (<usize>j << 2)) << 2;
    store<f32>(h + i, <f32>(<f64>load<f32>(scale + i) * <f64>load<f32>(u + i)));
  }
}

/** One step of `solveHidden`. @param rho square of the residual. @returns … of what is left of it. */
function takeStep(
  scale: usize,
  weight: usize,
  at: usize,
  weights: usize,
  width: i32,
  n: i32,
  lists: usize,
  counts: usize,
  scratch: usize,
  rho: f64,
): f64 {
  const size = <usize>n << 2;
  const hidden = lists;
  const showing = hidden + size;
  const inside = showing + size;
  const compared = inside + size;
  const hiddenCount = load<i32>(counts);
  const h = scratch;
  const u = h + size;
  const q = u + size;
  const residual = q + size;
  const shown = residual + size;
  const weighted = shown + size;
  const direction = weighted + size;
  for (let j = 0; j < hiddenCount; j++) {
    const i = <usize>load<i32>(hidden + (<usize>j << 2)) << 2;
    store<f32>(h + i, <f32>(<f64>load<f32>(scale + i) * <f64>load<f32>(direction + i)));
  }
  forward(h, showing, load<i32>(counts, 4), at, weights, width, shown);
  weighShown(shown, weight, compared, load<i32>(counts, 12), width, weighted);
  adjoint(weighted, showing, inside, load<i32>(counts, 8), at, weights, width, n, q);
  let curve: f64 = 0;
  for (let j = 0; j < hiddenCount; j++) {
    const i = <usize>load<i32>(hidden + (<usize>j << 2)) << 2;
    const along = <f64>load<f32>(direction + i);
    const value = <f32>(<f64>load<f32>(q + i) * <f64>load<f32>(scale + i) + along);
    store<f32>(q + i, value);
    curve += <f64>value * along;
  }
  const alpha = rho / curve;
  let next: f64 = 0;
  for (let j = 0; j < hiddenCount; j++) {
    const i = <usize>load<i32>(hidden + (<usize>j << 2)) << 2;
    store<f32>(u + i, <f32>(<f64>load<f32>(u + i) + alpha * <f64>load<f32>(direction + i)));
    const left = <f32>(<f64>load<f32>(residual + i) - alpha * <f64>load<f32>(q + i));
    store<f32>(residual + i, left);
    next += <f64>left * <f64>left;
  }
  const share = next / rho;
  for (let j = 0; j < hiddenCount; j++) {
    const i = <usize>load<i32>(hidden + (<usize>j << 2)) << 2;
    store<f32>(direction + i, <f32>(<f64>load<f32>(residual + i) + share * <f64>load<f32>(direction + i)));
  }
  return next;
}
