// rise: difference picture and baseline gradient → the noise of each pixel.
import { createRaster, type Raster } from "../core/raster.js";
import { quantile, robustSigma } from "../numeric/median.js";

/** Classes of baseline gradient over which the noise is measured one by one. */
const CLASSES = 12;

/** Measure the spread of a difference picture in classes of equal baseline gradient, read between class centres.
 *  Edges that a nudge did not leave quite in place are given the spread they show. The noise never falls with the
 *  gradient; beyond the last class it grows in proportion to it. Heat that covers less than half of a class does
 *  not raise it.
 *  @param contrast K, mean zero where nothing warms, NaN = no reading; not modified.
 *  @param gradient size of the baseline's gradient, K/px, same shape; not modified.
 *  @returns standard deviation, K, same shape.
 */
export function noiseByGradient(contrast: Raster<"K">, gradient: Float32Array): Raster<"K"> {
  const classes = CLASSES;
  const { width, height, data } = contrast;
  const centres: number[] = [];
  const sigmas: number[] = [];
  let low = Number.NEGATIVE_INFINITY;
  for (let k = 1; k <= classes; k++) {
    const high = k === classes ? Number.POSITIVE_INFINITY : quantile(gradient, k / classes);
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
  if (sigmas.length === 0) {
    centres.push(0);
    sigmas.push(robustSigma(data));
  }
  for (let k = 1; k < sigmas.length; k++) sigmas[k] = Math.max(sigmas[k]!, sigmas[k - 1]!);
  const noise = createRaster("K", width, height);
  for (let i = 0; i < data.length; i++) noise.data[i] = interpolate(centres, sigmas, gradient[i]!);
  return noise;
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
