// rise: scene → how steep it is at each pixel.
import type { Raster } from "../core/raster.js";
import { gaussianAt, gaussianFilter } from "../numeric/gaussian-filter.js";
import { sharedKernels } from "../numeric/kernels.js";
import { copyInto } from "../numeric/pixel-arithmetic.js";

/** Light smoothing, Gaussian σ. */
const SIGMA_PX = 1;

/** Size of the gradient of a scene after light smoothing, K/px; 0 along the border and beside missing readings.
 *  @param scene °C, NaN = no reading; not modified.
 *  @param into numbers of a picture of this shape that nobody needs any more: the result takes their place; null: it is
 *  new.
 */
export function sceneGradient(scene: Raster<"degC">, into: Float32Array | null = null): Float32Array {
  const { width, height, data } = scene;
  const kernels = sharedKernels();
  if (kernels !== null) {
    const from = gaussianAt(kernels, kernels.put(data), width, height, SIGMA_PX);
    const to = kernels.take(4 * data.length);
    kernels.floats(to, data.length).fill(0);
    kernels.run.steepness(from, width, height, to);
    return copyInto(kernels.floats(to, data.length), into);
  }
  const smooth = gaussianFilter(data, width, height, SIGMA_PX);
  const out = into?.fill(0) ?? new Float32Array(data.length);
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      const i = y * width + x;
      const across = smooth[i + 1]! - smooth[i - 1]!;
      const down = smooth[i + width]! - smooth[i - width]!;
      const g = Math.sqrt(across * across + down * down) / 2;
      if (g * 0 === 0) out[i] = g;
    }
  }
  return out;
}
