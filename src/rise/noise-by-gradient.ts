// rise: difference picture and baseline gradient → the noise of each pixel.
import type { OptionsOf } from "../core/options.js";
import { createRaster, type Raster } from "../core/raster.js";
import { quantile, robustSigma } from "../numeric/median.js";

/** Classes of baseline gradient over which the noise is measured one by one. */
const CLASSES = 12;

/** Defaults of `noiseByGradient`. */
export const GRADIENT_NOISE_DEFAULTS = Object.freeze({
  /** Nothing known of the alignment: edges get the spread they show. */
  shiftPx: Number.POSITIVE_INFINITY,
  leastK: 0,
});

/** Measure the spread of a difference picture in classes of equal baseline gradient, read between class centres.
 *  Edges that a nudge did not leave quite in place are given the spread they show, but no more than the shift that is
 *  still possible would leave there: what goes beyond is heat, on a board whose parts have edges too. The noise never
 *  falls with the gradient; beyond the last class it grows in proportion to it.
 *  @param contrast K, mean zero where nothing warms, NaN = no reading; not modified.
 *  @param gradient size of the baseline's gradient, K/px, same shape; not modified.
 *  @param options.shiftPx largest shift that may be left between the frames, px.
 *  @param options.leastK least noise there can be (levels of the file), K.
 *  @returns standard deviation, K, same shape.
 */
export function noiseByGradient(
  contrast: Raster<"K">,
  gradient: Float32Array,
  options: OptionsOf<typeof GRADIENT_NOISE_DEFAULTS> = {},
): Raster<"K"> {
  const { shiftPx, leastK } = { ...GRADIENT_NOISE_DEFAULTS, ...options };
  const { width, height, data } = contrast;
  const { centres, sigmas } = classSpreads(data, gradient);
  const flatK = Math.max(leastK, sigmas[0] ?? 0);
  for (let k = 0; k < sigmas.length; k++) {
    const most = flatK + shiftPx * Math.max(1e-12, centres[k]! - centres[0]!);
    sigmas[k] = Math.max(flatK, sigmas[k - 1] ?? 0, Math.min(sigmas[k]!, most));
  }
  const noise = createRaster("K", width, height);
  for (let i = 0; i < data.length; i++) {
    noise.data[i] = sigmas.length === 0 ? flatK : interpolate(centres, sigmas, gradient[i]!);
  }
  return noise;
}

/** Middle gradient and spread of the contrast, class by class, flattest first. */
function classSpreads(data: Float32Array, gradient: Float32Array): { centres: number[]; sigmas: number[] } {
  const centres: number[] = [];
  const sigmas: number[] = [];
  let low = Number.NEGATIVE_INFINITY;
  for (let k = 1; k <= CLASSES; k++) {
    const high = k === CLASSES ? Number.POSITIVE_INFINITY : quantile(gradient, k / CLASSES);
    const members: number[] = [];
    const at: number[] = [];
    for (let i = 0; i < data.length; i++) {
      if (gradient[i]! > low && gradient[i]! <= high && data[i]! * 0 === 0) {
        members.push(data[i]!);
        at.push(gradient[i]!);
      }
    }
    low = high;
    if (members.length < 32) continue;
    centres.push(quantile(at, 0.5));
    sigmas.push(robustSigma(members));
  }
  const all = robustSigma(data);
  if (sigmas.length === 0 && Number.isFinite(all)) {
    centres.push(0);
    sigmas.push(all);
  }
  return { centres, sigmas };
}

/** Piecewise linear through the class centres; beyond the last one it grows in proportion to the gradient. */
function interpolate(centres: readonly number[], sigmas: readonly number[], at: number): number {
  const last = centres.length - 1;
  if (!(at > centres[0]!)) return sigmas[0]!;
  if (at >= centres[last]!) return sigmas[last]! * Math.max(1, at / Math.max(centres[last]!, 1e-9));
  let k = 1;
  while (centres[k]! < at) k++;
  const share = (at - centres[k - 1]!) / (centres[k]! - centres[k - 1]! || 1);
  return sigmas[k - 1]! + share * (sigmas[k]! - sigmas[k - 1]!);
}
