// rise: place and width of a spot → the weights of pixels that measure how far it stands above its surroundings.
import type { FramePoint } from "../core/units.js";

/** A weighted sum over some pixels of a frame. */
export interface SpotKernel {
  /** Pixels, as indices in the raster. */
  readonly pixels: Int32Array;
  /** Their weights; they sum to 0. */
  readonly weights: Float64Array;
}

/** The surroundings are this much wider than the spot. */
const SURROUND_RATIO = 2;
/** Share of a Gaussian spot's peak that is left by averaging over its own width and taking off the surroundings at
 *  twice the width: ½ − 1/5. */
const PEAK_SHARE = 0.5 - 1 / (1 + SURROUND_RATIO * SURROUND_RATIO);

/** Make the kernel that gives the height of a Gaussian spot above its surroundings: weighted mean over the spot minus
 *  that over its surroundings, scaled so that a spot of just this width gives its peak. A constant gives 0.
 *  @param at the spot's centre.
 *  @param widthPx its Gaussian width, px.
 *  @param usable false for pixels that have no reading to rely on.
 *  @returns null where fewer than a handful of pixels are left.
 */
export function spotKernel(
  at: FramePoint,
  widthPx: number,
  width: number,
  height: number,
  usable: (pixel: number) => boolean,
): SpotKernel | null {
  const reach = Math.ceil(3 * SURROUND_RATIO * widthPx);
  const pixels: number[] = [];
  const fine: number[] = [];
  const wide: number[] = [];
  let fineSum = 0;
  let wideSum = 0;
  const x0 = Math.max(0, Math.round(at[0]) - reach);
  const x1 = Math.min(width - 1, Math.round(at[0]) + reach);
  const y1 = Math.min(height - 1, Math.round(at[1]) + reach);
  for (let y = Math.max(0, Math.round(at[1]) - reach); y <= y1; y++) {
    for (let x = x0; x <= x1; x++) {
      const pixel = y * width + x;
      if (!usable(pixel)) continue;
      const r2 = (x - at[0]) ** 2 + (y - at[1]) ** 2;
      const a = Math.exp((-0.5 * r2) / widthPx ** 2);
      const b = Math.exp((-0.5 * r2) / (SURROUND_RATIO * widthPx) ** 2);
      pixels.push(pixel);
      fine.push(a);
      wide.push(b);
      fineSum += a;
      wideSum += b;
    }
  }
  // Half of the spot at least must be seen.
  if (!(fineSum > Math.PI * widthPx * widthPx) || pixels.length < 9) return null;
  return {
    pixels: Int32Array.from(pixels),
    weights: Float64Array.from(fine, (a, n) => (a / fineSum - wide[n]! / wideSum) / PEAK_SHARE),
  };
}

/** Weighted sum of a picture; a pixel without a reading counts as 0. */
export function applyKernel({ pixels, weights }: SpotKernel, data: Float32Array): number {
  let sum = 0;
  for (let n = 0; n < pixels.length; n++) {
    const value = data[pixels[n]!]!;
    if (value * 0 === 0) sum += weights[n]! * value;
  }
  return sum;
}

/** Noise of the weighted sum, for independent noise of each pixel. */
export function kernelNoise({ pixels, weights }: SpotKernel, sigma: (pixel: number) => number): number {
  let sum = 0;
  for (let n = 0; n < pixels.length; n++) sum += (weights[n]! * sigma(pixels[n]!)) ** 2;
  return Math.sqrt(sum);
}
