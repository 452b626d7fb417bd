// clean: picture → pixels that stand out alone, as nothing seen through optics can.
import { evenStride } from "../numeric/even-stride.js";
import type { Address } from "../numeric/kernel-exports.js";
import { type Kernels, sharedKernels } from "../numeric/kernels.js";
import { median, medianOfSorted, robustSigma } from "../numeric/median.js";

/** Shape of a lone pixel. */
const LONE_PIXEL_DEFAULTS = Object.freeze({
  /** Share of the pixel's height that the middle two of its side neighbours reach at most. A spot of optics sigma 0.6
   *  px has 0.249 = e^(−1/(2·0.6²)) there wherever it is centred, a defect 0. */
  mostSupport: 0.15,
  /** The pixel stands out by at least this many times the range of its neighbours: texture does not. */
  leastOverRange: 2,
  /** Pixels from which the ordinary distance is taken: their robust sigma is good to 2 %, and no result needs it
   *  better. */
  sample: 6000,
});

/** Fewer neighbours than this have no median worth the name. */
export const LEAST_NEIGHBOURS = 3;

/** Pixels that stand out alone, by their indices, rising: 1 where one stands out upwards, 2 downwards. There are few,
 *  so that no picture of them is made.
 */
export type LonePixels = ReadonlyMap<number, 1 | 2>;

/** Find pixels that stand out from their surroundings alone or with one other pixel.
 *  Three conditions: further from the median of the eight neighbours than `sigmaLimit` robust sigma of that distance
 *  over the picture; further than twice the range of the neighbours (the most extreme one left out: the other of a
 *  pair); and without support: over the median of the ring of sixteen around them, the second and third of the four
 *  side neighbours reach less than 15 % of the pixel, noise counted in. In doubt the pixel is left alone.
 *  @param data any unit, row-major, NaN = no reading; not modified.
 *  @param leastDistance smallest distance from the neighbours that counts, unit of data.
 *  @returns 0, 1 where it stands out upwards, 2 downwards.
 */
export function findLonePixels(
  data: Float32Array,
  width: number,
  height: number,
  sigmaLimit: number,
  leastDistance: number,
): Uint8Array {
  const lone = new Uint8Array(data.length);
  for (const [i, way] of lonePixels(data, width, height, sigmaLimit, leastDistance)) lone[i] = way;
  return lone;
}

/** The same as a list. */
export function lonePixels(
  data: Float32Array,
  width: number,
  height: number,
  sigmaLimit: number,
  leastDistance: number,
): LonePixels {
  const kernels = sharedKernels();
  if (kernels !== null) {
    return lonePixelsAt(kernels, kernels.put(data), width, height, sigmaLimit, leastDistance);
  }
  const step = evenStride(data.length, width, LONE_PIXEL_DEFAULTS.sample);
  const distance = new Float64Array(Math.ceil(data.length / step));
  const near = new Float64Array(8);
  for (let i = 0, k = 0; i < data.length; i += step, k++) {
    const count = neighbours(data, width, height, i % width, Math.floor(i / width), near);
    distance[k] = count < LEAST_NEIGHBOURS ? Number.NaN : data[i]! - medianOfSorted(near, count);
  }
  const sigma = typicalSize(distance);
  const least = Math.max(sigmaLimit * sigma, leastDistance);
  const lone = new Map<number, 1 | 2>();
  const judge = lonePixelJudge(data, width, height, sigma, least, lone);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      if (mayStandOut(data, width, height, x, y, least)) judge(x, y, i);
    }
  }
  return lone;
}

/** The same of a picture in the kernels' memory, to the last bit. @param from where it lies; not modified. */
export function lonePixelsAt(
  kernels: Kernels,
  from: Address,
  width: number,
  height: number,
  sigmaLimit: number,
  leastDistance: number,
): LonePixels {
  const n = width * height;
  const step = evenStride(n, width, LONE_PIXEL_DEFAULTS.sample);
  const sampled = Math.ceil(n / step);
  const to = kernels.take(Math.max(8 * sampled, 4 * n));
  const near = kernels.take(8 * 8);
  kernels.run.medianDistances(from, width, height, step, near, to);
  const sigma = typicalSize(kernels.doubles(to, sampled).slice());
  const least = Math.max(sigmaLimit * sigma, leastDistance);
  const count = kernels.run.mayStandOut(from, width, height, least, to);
  const lone = new Map<number, 1 | 2>();
  const judge = lonePixelJudge(kernels.floats(from, n), width, height, sigma, least, lone);
  for (const i of kernels.integers(to, count).slice()) judge(i % width, Math.floor(i / width), i);
  kernels.giveBack(to);
  return lone;
}

/** Makes what looks at one pixel and its surroundings, and marks it if it stands out alone. */
function lonePixelJudge(
  data: Float32Array,
  width: number,
  height: number,
  sigma: number,
  least: number,
  lone: Map<number, 1 | 2>,
): (x: number, y: number, i: number) => void {
  const near = new Float64Array(8);
  const ring = new Float64Array(16);
  return (x, y, i) => {
    const value = data[i]!;
    const count = neighbours(data, width, height, x, y, near);
    if (count < LEAST_NEIGHBOURS) return;
    const distance = value - medianOfSorted(near, count);
    const size = Math.abs(distance);
    if (!(size > least)) return;
    const sign = distance > 0 ? 1 : -1;
    if (size < LONE_PIXEL_DEFAULTS.leastOverRange * rangeWithoutExtreme(near, count, value)) return;
    const background = median(ring.subarray(0, outerRing(data, width, height, x, y, ring)));
    const rise = sign * (value - background);
    const support = sideSupport(data, width, height, x, y, background, sign);
    // One sigma is twice the noise of the mean of two neighbours: a faint spot must not pass for a defect by chance.
    if (support + sigma <= LONE_PIXEL_DEFAULTS.mostSupport * rise) lone.set(i, sign > 0 ? 1 : 2);
  };
}

/** Quick answer for most pixels: more than half of the neighbours within the limit leave the median neighbour within
 *  it, whatever the others and however many of them are holes.
 */
function mayStandOut(
  data: Float32Array,
  width: number,
  height: number,
  x: number,
  y: number,
  least: number,
): boolean {
  const value = data[y * width + x]!;
  const low = value - least;
  const high = value + least;
  let within = 0;
  let around = 0;
  for (let v = Math.max(0, y - 1); v <= Math.min(height - 1, y + 1); v++) {
    for (let u = Math.max(0, x - 1); u <= Math.min(width - 1, x + 1); u++) {
      if (u === x && v === y) continue;
      const other = data[v * width + u]!;
      if (other >= low && other <= high) within++;
      around++;
    }
  }
  return 2 * within <= around;
}

/** Robust sigma of distances from the median neighbour; where more than half of them are equal (coarse levels), from
 *  their mean size instead. */
function typicalSize(distance: Float64Array): number {
  const sigma = robustSigma(distance);
  if (!(sigma === 0)) return sigma;
  let sum = 0;
  let count = 0;
  for (const value of distance) {
    if (Number.isNaN(value)) continue;
    sum += Math.abs(value);
    count++;
  }
  // Mean size to sigma of a Gaussian.
  return (Math.sqrt(Math.PI / 2) * sum) / count;
}

/** Readings of the eight neighbours, rising; gives their number. */
function neighbours(
  data: Float32Array,
  width: number,
  height: number,
  x: number,
  y: number,
  near: Float64Array,
): number {
  let count = 0;
  for (let dy = y > 0 ? -1 : 0; dy <= (y + 1 < height ? 1 : 0); dy++) {
    for (let dx = x > 0 ? -1 : 0; dx <= (x + 1 < width ? 1 : 0); dx++) {
      if (dx === 0 && dy === 0) continue;
      const value = data[(y + dy) * width + x + dx]!;
      if (Number.isNaN(value)) continue;
      let at = count++;
      for (; at > 0 && near[at - 1]! > value; at--) near[at] = near[at - 1]!;
      near[at] = value;
    }
  }
  return count;
}

/** Range of the sorted neighbours without the one nearest to `value` in height: the other of a pair. */
function rangeWithoutExtreme(sorted: Float64Array, count: number, value: number): number {
  if (count < 3) return Number.POSITIVE_INFINITY;
  const low = sorted[0]!;
  const high = sorted[count - 1]!;
  return Math.abs(value - high) < Math.abs(value - low) ? sorted[count - 2]! - low : high - sorted[1]!;
}

/** Readings at two pixels' distance in x or y; gives their number. */
function outerRing(
  data: Float32Array,
  width: number,
  height: number,
  x: number,
  y: number,
  ring: Float64Array,
): number {
  let count = 0;
  for (let dy = -2; dy <= 2; dy++) {
    if (y + dy < 0 || y + dy >= height) continue;
    const step = Math.abs(dy) === 2 ? 1 : 4;
    for (let dx = -2; dx <= 2; dx += step) {
      if (x + dx < 0 || x + dx >= width) continue;
      const value = data[(y + dy) * width + x + dx]!;
      if (!Number.isNaN(value)) ring[count++] = value;
    }
  }
  return count;
}

/** Mean of the second and third highest side neighbours over the background; Infinity (full support) if there are not
 *  two. */
function sideSupport(
  data: Float32Array,
  width: number,
  height: number,
  x: number,
  y: number,
  background: number,
  sign: number,
): number {
  const sides = [
    x > 0 ? data[y * width + x - 1]! : Number.NaN,
    x + 1 < width ? data[y * width + x + 1]! : Number.NaN,
    y > 0 ? data[(y - 1) * width + x]! : Number.NaN,
    y + 1 < height ? data[(y + 1) * width + x]! : Number.NaN,
  ]
    .filter((value) => !Number.isNaN(value))
    .map((value) => sign * (value - background))
    .sort((a, b) => b - a);
  if (sides.length < 2) return Number.POSITIVE_INFINITY;
  const second = sides[1]!;
  return sides.length === 2 ? second : (second + sides[2]!) / 2;
}
