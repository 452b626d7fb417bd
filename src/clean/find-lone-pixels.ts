// clean: picture → pixels that stand out alone, as nothing seen through optics can.
import { median, robustSigma } from "../numeric/median.js";

/** Shape of a lone pixel. */
export const LONE_PIXEL_DEFAULTS = Object.freeze({
  /** Share of the pixel's height that the middle two of its side neighbours reach at most. A spot of optics sigma 0.6 px
   *  has 0.249 = e^(−1/(2·0.6²)) there wherever it is centred, a defect 0. */
  mostSupport: 0.15,
  /** The pixel stands out by at least this many times the range of its neighbours: texture does not. */
  leastOverRange: 2,
});

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
  const distance = new Float32Array(data.length);
  const near = new Float64Array(8);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      const count = neighbours(data, width, height, x, y, near);
      distance[i] = count < 3 ? Number.NaN : data[i]! - middleOfFew(near, count);
    }
  }
  const sigma = typicalDistance(distance);
  const lone = new Uint8Array(data.length);
  const least = Math.max(sigmaLimit * sigma, leastDistance);
  const ring = new Float64Array(16);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      const size = Math.abs(distance[i]!);
      if (!(size > least)) continue;
      const sign = distance[i]! > 0 ? 1 : -1;
      const count = neighbours(data, width, height, x, y, near);
      if (size < LONE_PIXEL_DEFAULTS.leastOverRange * rangeWithoutExtreme(near, count, data[i]!)) continue;
      const background = median(ring.subarray(0, outerRing(data, width, height, x, y, ring)));
      const rise = sign * (data[i]! - background);
      const support = sideSupport(data, width, height, x, y, background, sign);
      // Half a sigma: the noise of the mean of two neighbours, less what they share with the background.
      if (support + 0.5 * sigma <= LONE_PIXEL_DEFAULTS.mostSupport * rise) lone[i] = sign > 0 ? 1 : 2;
    }
  }
  return lone;
}

/** Robust sigma of the distances; where more than half are equal (coarse levels), their mean size instead. */
function typicalDistance(distance: Float32Array): number {
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

/** Median of the first `count` numbers, which are in rising order. */
function middleOfFew(sorted: Float64Array, count: number): number {
  const half = count >> 1;
  return count % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
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

/** Mean of the second and third highest side neighbours over the background; Infinity (full support) if there are not two. */
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
