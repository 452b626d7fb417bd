// numeric: pictures → how far a fit may err at each pixel, and what stands out of that. By kernels, or by the plain
// code that each of them stands in for: in loops over whole pictures that run once an engine takes a hundred times as
// long at first.
import { kernelsFor } from "./kernels.js";

/** Compute base + (factorA · a)² + (factorB · b)², in double precision and rounded once. None is modified. */
export function addSquared(
  base: Float32Array,
  a: Float32Array,
  factorA: number,
  b: Float32Array = a,
  factorB = 0,
): Float32Array {
  const n = base.length;
  const kernels = kernelsFor(n);
  if (kernels !== null) {
    const [from, one, other] = [kernels.put(base), kernels.put(a), b === a ? null : kernels.put(b)];
    const to = kernels.take(4 * n);
    kernels.run.addSquared(from, one, factorA, other ?? one, factorB, n, to);
    return kernels.floats(to, n).slice();
  }
  const out = new Float32Array(n);
  for (let i = 0; i < n; i++) out[i] = base[i]! + (factorA * a[i]!) ** 2 + (factorB * b[i]!) ** 2;
  return out;
}

/** Work out half the size of the step over each pixel, along both axes together.
 *  @returns 0 at the border.
 */
export function halfStepSize(values: Float32Array, width: number, height: number): Float32Array {
  const n = values.length;
  const kernels = kernelsFor(n);
  if (kernels !== null) {
    const from = kernels.put(values);
    const to = kernels.take(4 * n);
    kernels.run.gradientSize(from, width, height, to);
    return kernels.floats(to, n).slice();
  }
  const out = new Float32Array(n);
  for (let y = 1; y < height - 1; y++) {
    for (let i = y * width + 1; i < (y + 1) * width - 1; i++) {
      out[i] = 0.5 * Math.hypot(values[i + 1]! - values[i - 1]!, values[i + width]! - values[i - width]!);
    }
  }
  return out;
}

/** Divide a picture by the root of its variance.
 *  @param marked 1 = 0 there instead.
 */
export function standardise(data: Float32Array, variance: Float32Array, marked: Uint8Array): Float32Array {
  const n = data.length;
  const kernels = kernelsFor(n);
  if (kernels !== null) {
    const [from, noise, mask] = [kernels.put(data), kernels.put(variance), kernels.put(marked)];
    const to = kernels.take(4 * n);
    kernels.run.standardise(from, noise, mask, n, to);
    return kernels.floats(to, n).slice();
  }
  const out = new Float32Array(n);
  for (let i = 0; i < n; i++) out[i] = marked[i] === 1 ? 0 : data[i]! / Math.sqrt(variance[i]!);
  return out;
}

/** Tell how many sigma each pixel lies below its surroundings.
 *  @param own with NaN where a pixel takes no part; @param place and @param around the same, smoothed.
 *  @param noise variance; @param left standard deviation of noise that the smoothing leaves, as a share of a pixel's.
 *  @param slope of what is known to be there; it may lie `slopePx` off. @param heat a place can lie no further below, …
 *  @param growSigma … but for so many sigma.
 *  @returns 0 where a pixel takes no part, or lies below by more than that.
 */
export function dipDepths(
  own: Float32Array,
  place: Float32Array,
  around: Float32Array,
  noise: Float32Array,
  left: number,
  slope: Float32Array,
  slopePx: number,
  heat: Float32Array,
  growSigma: number,
): Float32Array {
  const n = own.length;
  const kernels = kernelsFor(n);
  if (kernels !== null) {
    const at = [own, place, around, noise, slope, heat].map((picture) => kernels.put(picture));
    const to = kernels.take(4 * n);
    const [a, b, c, d, e, f] = at as [number, number, number, number, number, number];
    kernels.run.dipDepths(a, b, c, d, e, f, n, left, slopePx, growSigma, to);
    return kernels.floats(to, n).slice();
  }
  const out = new Float32Array(n);
  for (let i = 0; i < n; i++) {
    const sigma = left * Math.sqrt(noise[i]! + (slopePx * slope[i]!) ** 2);
    const depth = Math.min(0, around[i]!) - place[i]!;
    const shown = depth - growSigma * sigma <= heat[i]!;
    out[i] = own[i]! * 0 === 0 && shown ? depth / sigma : 0;
  }
  return out;
}

/** Mark the pixels that show less than `coolShare` of the heat expected, where that is more than `warmSigma` of their
 *  noise.
 *  @param variance of the noise.
 */
export function markCool(
  shown: Float32Array,
  heat: Float32Array,
  variance: Float32Array,
  warmSigma: number,
  coolShare: number,
): Uint8Array {
  const n = shown.length;
  const kernels = kernelsFor(n);
  if (kernels !== null) {
    const [from, expected, noise] = [kernels.put(shown), kernels.put(heat), kernels.put(variance)];
    const to = kernels.take(n);
    kernels.run.markCool(from, expected, noise, n, warmSigma, coolShare, to);
    return kernels.bytes(to, n).slice();
  }
  const out = new Uint8Array(n);
  for (let i = 0; i < n; i++) {
    const warm = heat[i]! > warmSigma * Math.sqrt(variance[i]!);
    if (warm && shown[i]! < coolShare * heat[i]!) out[i] = 1;
  }
  return out;
}

/** Divide sums by shares where a pixel counts and has more than the least share.
 *  @param counts 1 = counts.
 *  @returns NaN elsewhere.
 */
export function meanWhere(
  sums: Float32Array,
  shares: Float32Array,
  counts: Float32Array,
  least: number,
): Float32Array {
  const n = sums.length;
  const kernels = kernelsFor(n);
  if (kernels !== null) {
    const [of, by, mask] = [kernels.put(sums), kernels.put(shares), kernels.put(counts)];
    const to = kernels.take(4 * n);
    kernels.run.meanOver(of, by, mask, n, least, to);
    return kernels.floats(to, n).slice();
  }
  const out = new Float32Array(n).fill(Number.NaN);
  for (let i = 0; i < n; i++) {
    if (counts[i] === 1 && shares[i]! > least) out[i] = sums[i]! / shares[i]!;
  }
  return out;
}

/** Find the largest of some numbers and 0; NaN does not count. */
export function peakOf(values: Float32Array): number {
  const kernels = kernelsFor(values.length);
  if (kernels !== null) return Math.max(0, kernels.run.largest(kernels.put(values), values.length));
  let peak = 0;
  for (let i = 0; i < values.length; i++) if (values[i]! > peak) peak = values[i]!;
  return peak;
}

/** Find the largest of part ÷ rest where the part has more than a share of its peak.
 *  @param leastRest less of the rest counts as this much.
 *  @returns it, and the rest there.
 */
export function largestShare(
  part: Float32Array,
  rest: Float32Array,
  upperShare: number,
  leastRest: number,
): { readonly share: number; readonly rest: number } {
  const n = part.length;
  const kernels = kernelsFor(n);
  if (kernels !== null) {
    const [own, others] = [kernels.put(part), kernels.put(rest)];
    const found = kernels.take(8);
    const share = kernels.run.largestShare(own, others, n, upperShare, leastRest, found);
    return { share, rest: kernels.doubles(found, 1)[0]! };
  }
  let peak = 0;
  for (let i = 0; i < n; i++) if (part[i]! > peak) peak = part[i]!;
  let [share, there] = [0, 0];
  for (let i = 0; i < n; i++) {
    if (!(part[i]! > upperShare * peak)) continue;
    const here = part[i]! / Math.max(rest[i]!, leastRest);
    if (here > share) [share, there] = [here, rest[i]!];
  }
  return { share, rest: there };
}

/** Find the pixels that have a reading and a variance above 0.
 *  @returns where they are, the root of each one's variance, and for every pixel where it stands among them, −1 if it
 *  does not.
 */
export function usablePixels(
  data: Float32Array,
  variance: Float32Array,
): { readonly pixels: Int32Array; readonly sigma: Float32Array; readonly place: Int32Array } {
  const n = data.length;
  const kernels = kernelsFor(n);
  if (kernels !== null) {
    const [from, noise] = [kernels.put(data), kernels.put(variance)];
    const at = [0, 1, 2].map(() => kernels.take(4 * n)) as [number, number, number];
    const count = kernels.run.usablePixels(from, noise, n, ...at);
    return {
      pixels: kernels.integers(at[0], count).slice(),
      sigma: kernels.floats(at[1], count).slice(),
      place: kernels.integers(at[2], n).slice(),
    };
  }
  const pixels = new Int32Array(n);
  const sigma = new Float32Array(n);
  const place = new Int32Array(n).fill(-1);
  let count = 0;
  for (let i = 0; i < n; i++) {
    if (!(data[i]! * 0 === 0 && variance[i]! > 0 && variance[i]! * 0 === 0)) continue;
    sigma[count] = Math.sqrt(variance[i]!);
    place[i] = count;
    pixels[count++] = i;
  }
  return { pixels: pixels.slice(0, count), sigma: sigma.slice(0, count), place };
}
