// kernels: pictures → how far the fit of sources may err at each pixel, and what stands out of that. As in pixel-errors.ts.
import { pairAt, storePair } from "./pixels";

/** A picture of f32, plus the squares of multiples of two others, added one after the other and rounded once. */
export function addSquared(base: usize, a: usize, factorA: f64, b: usize, factorB: f64, n: i32, out: usize): void {
  const byA = f64x2.splat(factorA);
  const byB = f64x2.splat(factorB);
  let i = 0;
  for (; i + 2 <= n; i += 2, base += 8, a += 8, b += 8, out += 8) {
    const s = f64x2.mul(byA, pairAt(a));
    const t = f64x2.mul(byB, pairAt(b));
    storePair(out, f64x2.add(f64x2.add(pairAt(base), f64x2.mul(s, s)), f64x2.mul(t, t)));
  }
  if (i == n) return;
  const s = factorA * <f64>load<f32>(a);
  const t = factorB * <f64>load<f32>(b);
  store<f32>(out, <f32>(<f64>load<f32>(base) + s * s + t * t));
}

/** Half the size of the step over each pixel, in both directions, f32; 0 at the border. `Math.hypot` as the language's engine has it:
 *  squares of shares of the larger one, summed with what the sum had lost (Kahan 1965).
 */
export function gradientSize(values: usize, width: i32, height: i32, out: usize): void {
  const row = <usize>width << 2;
  memory.fill(out, 0, row * height);
  for (let y = 1; y < height - 1; y++) {
    let at = values + row * y + 4;
    let to = out + row * y + 4;
    for (let x = 1; x < width - 1; x++, at += 4, to += 4) {
      const dx = <f64>load<f32>(at, 4) - <f64>load<f32>(at - 4);
      const dy = <f64>load<f32>(at + row) - <f64>load<f32>(at - row);
      store<f32>(to, <f32>(0.5 * hypot(Math.abs(dx), Math.abs(dy))));
    }
  }
}

/** @param a @param b not negative. */
@inline
function hypot(a: f64, b: f64): f64 {
  if (a == Infinity || b == Infinity) return Infinity;
  if (a != a || b != b) return NaN;
  const most = Math.max(a, b);
  if (most == 0) return 0;
  const p = a / most;
  const sum = p * p;
  const q = b / most;
  // Of the first sum nothing is lost.
  return Math.sqrt(sum + q * q) * most;
}

/** How many sigma each pixel lies below its surroundings, f32: 0 where it has no number, where it is above, and where more heat is
 *  missing than was found there. sharp-dips.ts
 *  @param noise K². @param left share of a pixel's noise that is left. @param growSigma what is forgiven, sigma.
 */
export function dipDepths(
  own: usize,
  place: usize,
  around: usize,
  noise: usize,
  slope: usize,
  heat: usize,
  n: i32,
  left: f64,
  slopePx: f64,
  growSigma: f64,
  out: usize,
): void {
  for (let i: usize = 0, end = <usize>n << 2; i < end; i += 4) {
    const steep = slopePx * <f64>load<f32>(slope + i);
    const sigma = left * Math.sqrt(<f64>load<f32>(noise + i) + steep * steep);
    const depth = Math.min(0, <f64>load<f32>(around + i)) - <f64>load<f32>(place + i);
    const shown = depth - growSigma * sigma <= <f64>load<f32>(heat + i);
    const value = load<f32>(own + i);
    store<f32>(out + i, value * 0 == 0 && shown ? <f32>(depth / sigma) : 0);
  }
}

/** A picture ÷ the root of its variance, f32; 0 where marked. unexplained-pixels.ts @param marked u8. */
export function standardise(data: usize, variance: usize, marked: usize, n: i32, out: usize): void {
  for (let i = 0; i < n; i++, data += 4, variance += 4, out += 4) {
    const z = load<u8>(marked + i) == 1 ? 0 : <f64>load<f32>(data) / Math.sqrt(<f64>load<f32>(variance));
    store<f32>(out, <f32>z);
  }
}

/** Mark pixels that show less than a share of the heat expected where that stands clear of the noise. cool-faces.ts
 *  @param cool u8, written.
 */
export function markCool(
  shown: usize,
  heat: usize,
  variance: usize,
  n: i32,
  warmSigma: f64,
  coolShare: f64,
  cool: usize,
): void {
  for (let i = 0; i < n; i++, shown += 4, heat += 4, variance += 4) {
    const expected = <f64>load<f32>(heat);
    const warm = expected > warmSigma * Math.sqrt(<f64>load<f32>(variance));
    store<u8>(cool + i, warm && <f64>load<f32>(shown) < coolShare * expected ? 1 : 0);
  }
}

/** The mean around each pixel that counts, f32; NaN elsewhere, and where less than a share of what is around counts. cooled-pixels.ts */
export function meanOver(sums: usize, shares: usize, counts: usize, n: i32, least: f64, out: usize): void {
  for (let i = 0; i < n; i++, sums += 4, shares += 4, counts += 4, out += 4) {
    const share = <f64>load<f32>(shares);
    const known = load<f32>(counts) == 1 && share > least;
    store<f32>(out, known ? <f32>(<f64>load<f32>(sums) / share) : NaN);
  }
}

/** The largest of part ÷ rest where the part has more than a share of its peak; and the rest there, into `found`, f64.
 *  own-share.ts @returns the largest.
 */
export function largestShare(own: usize, rest: usize, n: i32, upper: f64, leastRest: f64, found: usize): f64 {
  let peak: f64 = 0;
  const end = own + (<usize>n << 2);
  for (let at = own; at < end; at += 4) {
    const value = <f64>load<f32>(at);
    if (value > peak) peak = value;
  }
  let share: f64 = 0;
  store<f64>(found, 0);
  for (let at = own; at < end; at += 4, rest += 4) {
    const value = <f64>load<f32>(at);
    if (!(value > upper * peak)) continue;
    const beside = <f64>load<f32>(rest);
    const here = value / Math.max(beside, leastRest);
    if (here > share) {
      share = here;
      store<f64>(found, beside);
    }
  }
  return share;
}

/** List the pixels that have a reading and a variance above 0. pixel-errors.ts
 *  @param pixels i32, @param sigma f32: written, room for all. @param place i32, written: −1 = none.
 *  @returns how many there are.
 */
export function usablePixels(data: usize, variance: usize, n: i32, pixels: usize, sigma: usize, place: usize): i32 {
  let count = 0;
  for (let i = 0; i < n; i++, data += 4, variance += 4, place += 4) {
    const noise = load<f32>(variance);
    if (!(load<f32>(data) * 0 == 0 && noise > 0 && noise * 0 == 0)) {
      store<i32>(place, -1);
      continue;
    }
    store<i32>(place, count);
    store<i32>(pixels + (<usize>count << 2), i);
    // Of a root of single precision the last bit is the same, whatever it was computed in.
    store<f32>(sigma + (<usize>count << 2), Mathf.sqrt(noise));
    count++;
  }
  return count;
}
