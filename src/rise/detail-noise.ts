// rise: rise and baseline gradient → the noise of a single pixel, from what no optics can show: the finest detail.
import { createRaster, type Raster } from "../core/raster.js";
import { gaussianAt, gaussianFilter } from "../numeric/gaussian-filter.js";
import { sharedKernels } from "../numeric/kernels.js";
import { SIGMA_PER_MAD } from "../numeric/median.js";
import { copyInto, subtractPixels } from "../numeric/pixel-arithmetic.js";
import { medianDetail } from "./line-detail.js";
import { noiseAt, noiseByGradient } from "./noise-by-gradient.js";

/** Width of the detail whose spread gives the noise of one pixel, px: Gaussian σ of what is taken off. */
export const DETAIL_SIGMA_PX = 1.5;

/** Share of white noise's variance that is left when its own smoothed version is taken off: it loses 2g(0) − Σg². */
export function detailVariance(sigmaPx: number): number {
  return 1 - 1 / (Math.PI * sigmaPx ** 2) + 1 / (4 * Math.PI * sigmaPx ** 2);
}

/** White noise of one pixel of a difference, K: from the detail of its flat parts. @param leastK no less than this is
 *  given. */
export function whiteNoise(rise: Raster<"K">, leastK: number): number {
  // A pixel less the mean of two neighbours has 1.5 times the variance.
  return Math.max(leastK, (SIGMA_PER_MAD * medianDetail(rise)) / Math.sqrt(1.5));
}

/** Noise of each pixel, in classes of equal baseline gradient, as `noiseByGradient` says.
 *  @param rise K, NaN = no reading; not modified.
 *  @param gradient size of the baseline's gradient, K/px, same shape; not modified unless it is also `into`.
 *  @param shiftPx largest shift that may be left between the frames, px.
 *  @param leastK least noise there can be, K.
 *  @param into numbers of a picture of this shape that nobody needs any more: the result takes their place; null: it is
 *  new.
 *  @returns standard deviation, K, same shape.
 */
export function detailNoise(
  rise: Raster<"K">,
  gradient: Float32Array,
  shiftPx: number,
  leastK: number,
  into: Float32Array | null = null,
): Raster<"K"> {
  const { width, height, data } = rise;
  const kept = Math.sqrt(detailVariance(DETAIL_SIGMA_PX));
  const limits = { shiftPx, leastK: leastK * kept };
  const kernels = sharedKernels();
  if (kernels !== null) {
    const n = data.length;
    const from = kernels.put(data);
    const detail = gaussianAt(kernels, from, width, height, DETAIL_SIGMA_PX);
    kernels.run.subtract(from, detail, n, detail);
    const at = noiseAt(kernels, detail, kernels.put(gradient), width, height, limits);
    kernels.run.divide(at, n, kept, at);
    return createRaster("K", width, height, copyInto(kernels.floats(at, n), into));
  }
  const smooth = gaussianFilter(data, width, height, DETAIL_SIGMA_PX);
  const detail = createRaster("K", width, height, subtractPixels(data, smooth));
  const noise = noiseByGradient(detail, gradient, limits);
  for (let i = 0; i < noise.data.length; i++) noise.data[i]! /= kept;
  return createRaster("K", width, height, copyInto(noise.data, into ?? noise.data));
}
