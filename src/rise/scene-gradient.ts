// rise: scene → how steep it is at each pixel.
import type { Raster } from "../core/raster.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { sharedKernels } from "../numeric/kernels.js";

/** Size of the gradient of a scene after light smoothing, K/px; 0 along the border and beside missing readings.
 *  @param scene °C, NaN = no reading; not modified.
 */
export function sceneGradient(scene: Raster<"degC">): Float32Array {
  const { width, height, data } = scene;
  const smooth = gaussianFilter(data, width, height, 1);
  const kernels = sharedKernels();
  if (kernels !== null) {
    const from = kernels.put(smooth);
    const to = kernels.take(4 * smooth.length);
    kernels.floats(to, smooth.length).fill(0);
    kernels.run.steepness(from, width, height, to);
    return kernels.floats(to, smooth.length).slice();
  }
  const out = new Float32Array(data.length);
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
