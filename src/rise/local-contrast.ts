// rise: rise → how far each point stands out of its surroundings, at several sizes, in units of the noise there.
import type { OptionsOf } from "../core/options.js";
import type { Raster } from "../core/raster.js";
import { createRaster } from "../core/raster.js";
import { type Kernels, kernelsFor, sharedKernels } from "../numeric/kernels.js";
import { median, middleOfRanks } from "../numeric/median.js";
import { differenceWhereRead } from "../numeric/pixel-arithmetic.js";
import { RanksByKernel } from "../numeric/ranks-by-kernel.js";
import { wideAt, wideGaussian } from "../numeric/wide-gaussian.js";
import { type BorderGain, borderGain, raiseAt, raiseTowardsBorder } from "./border-noise.js";
import { noiseAt, noiseByGradient } from "./noise-by-gradient.js";

/** Defaults of `localContrast`. The surroundings are no option of it: `contrastGain2` and `reselsOf` hold for these
 *  alone. */
export const CONTRAST_DEFAULTS = Object.freeze({
  /** Sizes tested, Gaussian σ in px: from the blur of the optics to a part of a few millimetres. */
  scalesPx: Object.freeze([1.3, 2.2, 3.8]) as readonly number[],
  /** The surroundings are this much wider than the size tested. */
  surroundRatio: 2,
  /** Nothing known of the alignment: edges get the spread they show. */
  shiftPx: Number.POSITIVE_INFINITY,
  /** Nothing known of the file's levels. */
  leastPixelK: 0,
});

/** Local contrast at one size. */
export interface ContrastLayer {
  readonly sigmaPx: number;
  /** Smoothed rise minus its surroundings, K. */
  readonly contrast: Raster<"K">;
  /** Standard deviation of the contrast where nothing warms, K. */
  readonly noise: Raster<"K">;
}

/** Measure, for each size, the contrast of every point and its noise.
 *  Heat drops off around its source while drift and broad reflections do not: the contrast keeps the one and
 *  cancels the others. The noise is read off the contrast itself, in classes of equal baseline gradient, so that
 *  edges which the nudge did not leave quite in place are given the spread they show.
 *  @param rise K, NaN = no reading; not modified.
 *  @param gradient size of the baseline's gradient, K/px, same shape; not modified.
 *  @param options.shiftPx largest shift that may be left between the frames, px.
 *  @param options.leastPixelK least noise of one pixel there can be, K.
 *  @param finest the rise smoothed at the first size, where it is at hand; null: it is made here.
 */
export function localContrast(
  rise: Raster<"K">,
  gradient: Float32Array,
  options: OptionsOf<Pick<typeof CONTRAST_DEFAULTS, "scalesPx" | "shiftPx" | "leastPixelK">> = {},
  finest: Float32Array | null = null,
): ContrastLayer[] {
  const o = { ...CONTRAST_DEFAULTS, ...options };
  const { data } = rise;
  const layerOf = (sigmaPx: number, k: number): ContrastLayer => {
    const fine = k === 0 ? finest : null;
    const leastK = o.leastPixelK * Math.sqrt(contrastGain2(sigmaPx));
    const limits = { shiftPx: o.shiftPx, leastK };
    const surroundPx = sigmaPx * o.surroundRatio;
    // Before a place in the kernels' memory is taken, for a median takes all of it.
    const border = borderGain(rise.width, rise.height, sigmaPx, surroundPx);
    const parts = { rise, gradient, sigmaPx, surroundPx, finest: fine, limits, border };
    const kernels = sharedKernels();
    return kernels === null ? layerInPlace(parts) : layerByKernel(kernels, parts);
  };
  const layers = (): ContrastLayer[] => o.scalesPx.map(layerOf);
  const kernels = kernelsFor(data.length);
  // Each size reads both.
  return kernels === null ? layers() : kernels.holding([data, gradient], layers);
}

/** What one size is measured from. */
interface LayerParts {
  readonly rise: Raster<"K">;
  readonly gradient: Float32Array;
  readonly sigmaPx: number;
  readonly surroundPx: number;
  /** The rise smoothed at this size, where it is at hand. */
  readonly finest: Float32Array | null;
  readonly limits: { readonly shiftPx: number; readonly leastK: number };
  readonly border: BorderGain;
}

/** One size by the plain code. */
function layerInPlace(parts: LayerParts): ContrastLayer {
  const { rise, gradient, sigmaPx, surroundPx, finest, limits, border } = parts;
  const { width, height, data } = rise;
  const near = finest ?? wideGaussian(data, width, height, sigmaPx);
  const wide = wideGaussian(data, width, height, surroundPx);
  const contrast = createRaster("K", width, height, differenceWhereRead(near, wide, data));
  const spread = wideGaussian(gradient, width, height, sigmaPx);
  const noise = noiseByGradient(contrast, spread, limits);
  raiseTowardsBorder(noise, border);
  return { sigmaPx, contrast, noise };
}

/** One size by the compiled kernels; what lies between stays in their memory. NaN where there is no reading. */
function layerByKernel(kernels: Kernels, parts: LayerParts): ContrastLayer {
  const { rise, gradient, sigmaPx, surroundPx, finest, limits, border } = parts;
  const { width, height, data } = rise;
  const n = data.length;
  const from = kernels.put(data);
  const fine = finest === null ? wideAt(kernels, from, width, height, sigmaPx) : kernels.put(finest);
  const wide = wideAt(kernels, from, width, height, surroundPx);
  kernels.run.differenceWhereRead(fine, wide, from, n, wide);
  const contrast = createRaster("K", width, height, kernels.floats(wide, n).slice());
  const spread = wideAt(kernels, kernels.put(gradient), width, height, sigmaPx);
  const noise = noiseAt(kernels, wide, spread, width, height, limits);
  raiseAt(kernels, noise, width, height, border);
  return { sigmaPx, contrast, noise: createRaster("K", width, height, kernels.floats(noise, n).slice()) };
}

/** Variance that a contrast of size σ leaves of white noise: a Gaussian passes 1/(4πσ²), and of the difference of
 *  widths σ and 2σ 0.45 of that is left.
 */
export function contrastGain2(sigmaPx: number): number {
  return 0.45 / (4 * Math.PI * sigmaPx * sigmaPx);
}

/** Resels of all layers together: area ÷ FWHM² of the contrast's own smoothness, with the surroundings at twice the
 *  size. A difference of Gaussians σ and 2σ of white noise has the curvature 0.825/σ² at the centre of its
 *  autocorrelation (ratio of the integrals of k²|H|² and |H|² over all frequencies).
 */
export function reselsOf(layers: readonly ContrastLayer[], pixels: number): number {
  let sum = 0;
  for (const { sigmaPx } of layers) sum += (pixels * 0.825) / (sigmaPx * sigmaPx) / (4 * Math.LN2);
  return sum;
}

/** Gaussian width of the spot that statements on the smallest rise refer to, px: a small part under usual optics. */
const SMALL_SPOT_PX = 1.5;

/** Peak of a small spot (Gaussian, σ 1.5 px) that just reaches a significance at the size that shows it best, K.
 *  Smoothing and the subtraction of the surroundings take their share of so small a spot.
 */
export function smallestPeak(layers: readonly ContrastLayer[], significance: number): number {
  const spot2 = SMALL_SPOT_PX ** 2;
  let least = Number.POSITIVE_INFINITY;
  for (const { sigmaPx, noise } of layers) {
    const s2 = sigmaPx * sigmaPx;
    const share = spot2 / (spot2 + s2) - spot2 / (spot2 + 4 * s2);
    least = Math.min(least, (significance * usual(noise.data)) / share);
  }
  return least;
}

/** The median; in the memory that other steps have used, since one of its own would be as large. */
function usual(values: Float32Array): number {
  const kernels = kernelsFor(values.length);
  if (kernels === null) return median(values);
  return middleOfRanks(new RanksByKernel(kernels, kernels.put(values), values.length));
}
