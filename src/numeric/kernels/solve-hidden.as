// kernels: what the difference of a moved pair shows, and where → the part of the pattern that edges had hidden. As in
// resolve-pattern.ts.
import { detailPair, fineDetail } from "./hidden-pattern";
import { pairAt, storePair } from "./pixels";

/** Whether a list goes on with the next number. */
@inline
function goesOn(list: usize): bool {
  return load<i32>(list, 4) == load<i32>(list) + 1;
}

/** Two numbers of f32 from different places, as doubles. */
@inline
function fromTwo(first: usize, second: usize): v128 {
  return f64x2.promote_low_f32x4(v128.load32_lane(second, v128.load32_zero(first), 1));
}

/** h − h moved, at some pixels. @param reads where they read. @param weights four for each of them. */
function forward(h: usize, pixels: usize, reads: usize, count: i32, weights: usize, width: i32, out: usize): void {
  const end = pixels + (<usize>count << 2);
  const row = <usize>width << 2;
  while (pixels < end) {
    const i = <usize>load<i32>(pixels) << 2;
    const k = h + (<usize>load<i32>(reads) << 2);
    const below = k + row;
    if (pixels + 4 < end && goesOn(pixels) && goesOn(reads)) {
      const first = v128.load(weights);
      const second = v128.load(weights, 16);
      const upper = v128.shuffle<i32>(first, second, 0, 4, 1, 5);
      const lower = v128.shuffle<i32>(first, second, 2, 6, 3, 7);
      let value = f64x2.sub(pairAt(h + i), f64x2.mul(f64x2.promote_low_f32x4(upper), pairAt(k)));
      value = f64x2.sub(value, f64x2.mul(f64x2.promote_low_f32x4(highPair(upper)), pairAt(k + 4)));
      value = f64x2.sub(value, f64x2.mul(f64x2.promote_low_f32x4(lower), pairAt(below)));
      value = f64x2.sub(value, f64x2.mul(f64x2.promote_low_f32x4(highPair(lower)), pairAt(below + 4)));
      storePair(out + i, value);
      pixels += 8;
      reads += 8;
      weights += 32;
      continue;
    }
    const value =
      <f64>load<f32>(h + i) -
      <f64>load<f32>(weights) * <f64>load<f32>(k) -
      <f64>load<f32>(weights, 4) * <f64>load<f32>(k, 4) -
      <f64>load<f32>(weights, 8) * <f64>load<f32>(below) -
      <f64>load<f32>(weights, 12) * <f64>load<f32>(below, 4);
    store<f32>(out + i, <f32>value);
    pixels += 4;
    reads += 4;
    weights += 16;
  }
}

@inline
function highPair(four: v128): v128 {
  return v128.shuffle<i64>(four, four, 1, 1);
}

/** weight × fine detail of what is shown, at some pixels. @param weight one for each of them. */
function weighShown(shown: usize, weight: usize, pixels: usize, count: i32, width: i32, out: usize): void {
  const end = pixels + (<usize>count << 2);
  while (pixels < end) {
    const i = load<i32>(pixels);
    const at = <usize>i << 2;
    if (pixels + 4 < end && goesOn(pixels)) {
      storePair(out + at, f64x2.mul(pairAt(weight), detailPair(shown + at, width)));
      pixels += 8;
      weight += 8;
      continue;
    }
    store<f32>(out + at, <f32>(<f64>load<f32>(weight) * fineDetail(shown, i, width)));
    pixels += 4;
    weight += 4;
  }
}

/** The transposed of fine detail after `forward`, from what some pixels show.
 *  @param inside which of `pixels`, by their places there. @param n pixels of the picture.
 */
function adjoint(
  weighted: usize,
  pixels: usize,
  reads: usize,
  inside: usize,
  count: i32,
  weights: usize,
  width: i32,
  n: i32,
  out: usize,
): void {
  memory.fill(out, 0, <usize>n << 2);
  const end = inside + (<usize>count << 2);
  while (inside < end) {
    const place = <usize>load<i32>(inside) << 2;
    const i = load<i32>(pixels + place);
    const at = <usize>i << 2;
    const k = out + (<usize>load<i32>(reads + place) << 2);
    const w = weights + (place << 2);
    if (inside + 4 < end && goesOn(inside) && goesOn(pixels + place)) {
      const pair = detailPair(weighted + at, width);
      spread(out + at, k, w, f64x2.extract_lane(pair, 0), width);
      const next = out + (<usize>load<i32>(reads + place, 4) << 2);
      spread(out + at + 4, next, w + 16, f64x2.extract_lane(pair, 1), width);
      inside += 8;
      continue;
    }
    spread(out + at, k, w, fineDetail(weighted, i, width), width);
    inside += 4;
  }
}

/** What one pixel shows, to where it is and to the four that it reads. */
@inline
function spread(own: usize, k: usize, weights: usize, value: f64, width: i32): void {
  const below = k + (<usize>width << 2);
  const four = v128.load(weights);
  const upper = f64x2.mul(f64x2.promote_low_f32x4(four), f64x2.splat(value));
  const lower = f64x2.mul(f64x2.promote_low_f32x4(highPair(four)), f64x2.splat(value));
  store<f32>(own, <f32>(<f64>load<f32>(own) + value));
  // One by one: what was just stored is loaded again at once only in the same form.
  take(k, f64x2.extract_lane(upper, 0));
  take(k + 4, f64x2.extract_lane(upper, 1));
  take(below, f64x2.extract_lane(lower, 0));
  take(below + 4, f64x2.extract_lane(lower, 1));
}

@inline
function take(from: usize, value: f64): void {
  store<f32>(from, <f32>(<f64>load<f32>(from) - value));
}

/** Minimise Σ w (d + F(h − h moved))² + Σ u² over u by conjugate gradients, with h = scale·u and F the fine detail.
 *  @param scale f32, a picture. @param weight of what is compared, as `involved` lists it.
 *  @param lists hidden, showing, reads, inside and compared of `involved`, i32, n numbers apart. @param counts their lengths.
 *  @param weights as `readWeights` lays them for `showing`.
 *  @param pictures f32, four: the first becomes h, all but the last are zeros, that one holds the detail of what is compared.
 *  @param work f32, five for each hidden pixel.
 */
export function solveHidden(
  scale: usize,
  weight: usize,
  weights: usize,
  width: i32,
  n: i32,
  lists: usize,
  counts: usize,
  steps: i32,
  pictures: usize,
  work: usize,
): void {
  const size = <usize>n << 2;
  const count = load<i32>(counts);
  const part = <usize>count << 2;
  const hidden = lists;
  const compared = lists + 4 * size;
  const comparedCount = <usize>load<i32>(counts, 12) << 2;
  const weighted = pictures + 2 * size;
  const q = weighted + size;
  const own = work;
  const u = own + part;
  const residual = u + part;
  const direction = residual + part;
  for (let j: usize = 0; j < comparedCount; j += 4) {
    const i = <usize>load<i32>(compared + j) << 2;
    store<f32>(weighted + i, <f32>(-(<f64>load<f32>(weight + j)) * <f64>load<f32>(q + j)));
  }
  const showing = hidden + size;
  const inside = showing + 2 * size;
  adjoint(weighted, showing, showing + size, inside, load<i32>(counts, 8), weights, width, n, q);
  memory.fill(u, 0, part);
  let rho: f64 = 0;
  for (let j: usize = 0; j < part; j += 4) {
    const i = <usize>load<i32>(hidden + j) << 2;
    const expected = load<f32>(scale + i);
    const value = <f32>(<f64>load<f32>(q + i) * <f64>expected);
    store<f32>(own + j, expected);
    store<f32>(residual + j, value);
    store<f32>(direction + j, value);
    rho += <f64>value * <f64>value;
  }
  // In two places, so that the compiler leaves the step a function of its own: the engine has better code of it after the first ones.
  if (steps > 0 && rho > 0) {
    rho = takeStep(weight, weights, width, n, lists, counts, pictures, work, rho);
  }
  for (let step = 1; step < steps && rho > 0; step++) {
    rho = takeStep(weight, weights, width, n, lists, counts, pictures, work, rho);
  }
  scatter(own, u, hidden, count, pictures);
}

/** The products of two lists, to some pixels of a picture. */
function scatter(a: usize, b: usize, pixels: usize, count: i32, out: usize): void {
  const all = <usize>count << 2;
  let j: usize = 0;
  for (; j + 8 <= all; j += 8) {
    const pair = f32x4.demote_f64x2_zero(f64x2.mul(pairAt(a + j), pairAt(b + j)));
    v128.store32_lane(out + (<usize>load<i32>(pixels + j) << 2), pair, 0);
    v128.store32_lane(out + (<usize>load<i32>(pixels + j, 4) << 2), pair, 1);
  }
  if (j == all) return;
  store<f32>(out + (<usize>load<i32>(pixels + j) << 2), <f32>(<f64>load<f32>(a + j) * <f64>load<f32>(b + j)));
}

/** One step of `solveHidden`. @param rho square of the residual. @returns … of what is left of it. */
function takeStep(
  weight: usize,
  weights: usize,
  width: i32,
  n: i32,
  lists: usize,
  counts: usize,
  pictures: usize,
  work: usize,
  rho: f64,
): f64 {
  const size = <usize>n << 2;
  const hidden = lists;
  const showing = hidden + size;
  const reads = showing + size;
  const inside = reads + size;
  const compared = inside + size;
  const count = load<i32>(counts);
  const part = <usize>count << 2;
  const h = pictures;
  const shown = h + size;
  const weighted = shown + size;
  const back = weighted + size;
  const own = work;
  const u = own + part;
  const residual = u + part;
  const direction = residual + part;
  const q = direction + part;
  scatter(own, direction, hidden, count, h);
  forward(h, showing, reads, load<i32>(counts, 4), weights, width, shown);
  weighShown(shown, weight, compared, load<i32>(counts, 12), width, weighted);
  adjoint(weighted, showing, reads, inside, load<i32>(counts, 8), weights, width, n, back);
  let curve: f64 = 0;
  let j: usize = 0;
  for (; j + 8 <= part; j += 8) {
    const first = back + (<usize>load<i32>(hidden + j) << 2);
    const second = back + (<usize>load<i32>(hidden + j, 4) << 2);
    const along = pairAt(direction + j);
    const rounded = f32x4.demote_f64x2_zero(f64x2.add(f64x2.mul(fromTwo(first, second), pairAt(own + j)), along));
    v128.store64_lane(q + j, rounded, 0);
    const product = f64x2.mul(f64x2.promote_low_f32x4(rounded), along);
    curve += f64x2.extract_lane(product, 0);
    curve += f64x2.extract_lane(product, 1);
  }
  for (; j < part; j += 4) {
    const along = <f64>load<f32>(direction + j);
    const there = <f64>load<f32>(back + (<usize>load<i32>(hidden + j) << 2));
    const value = <f32>(there * <f64>load<f32>(own + j) + along);
    store<f32>(q + j, value);
    curve += <f64>value * along;
  }
  const alpha = rho / curve;
  let next: f64 = 0;
  for (j = 0; j + 8 <= part; j += 8) {
    storePair(u + j, f64x2.add(pairAt(u + j), f64x2.mul(f64x2.splat(alpha), pairAt(direction + j))));
    const taken = f64x2.mul(f64x2.splat(alpha), pairAt(q + j));
    const left = f32x4.demote_f64x2_zero(f64x2.sub(pairAt(residual + j), taken));
    v128.store64_lane(residual + j, left, 0);
    const wide = f64x2.promote_low_f32x4(left);
    const square = f64x2.mul(wide, wide);
    next += f64x2.extract_lane(square, 0);
    next += f64x2.extract_lane(square, 1);
  }
  for (; j < part; j += 4) {
    store<f32>(u + j, <f32>(<f64>load<f32>(u + j) + alpha * <f64>load<f32>(direction + j)));
    const left = <f32>(<f64>load<f32>(residual + j) - alpha * <f64>load<f32>(q + j));
    store<f32>(residual + j, left);
    next += <f64>left * <f64>left;
  }
  const share = next / rho;
  for (j = 0; j + 8 <= part; j += 8) {
    const kept = f64x2.mul(f64x2.splat(share), pairAt(direction + j));
    storePair(direction + j, f64x2.add(pairAt(residual + j), kept));
  }
  for (; j < part; j += 4) {
    store<f32>(direction + j, <f32>(<f64>load<f32>(residual + j) + share * <f64>load<f32>(direction + j)));
  }
  return next;
}
