// rise: difference picture → how much each pixel differs from the mean of its left and right neighbours.
import type { Raster } from "../core/raster.js";
import { kernelsFor, sharedKernels } from "../numeric/kernels.js";
import { median, middleOfRanks } from "../numeric/median.js";
import { RanksByKernel } from "../numeric/ranks-by-kernel.js";

/** List the sizes of the detail along the rows, K; pixels at the border and beside missing readings have none.
 *  @param rise K, NaN = no reading; not modified.
 */
export function lineDetail({ width, height, data }: Raster<"K">): Float32Array {
  const kernels = sharedKernels();
  if (kernels !== null) {
    const from = kernels.put(data);
    const to = kernels.take(4 * data.length);
    return kernels.floats(to, kernels.run.lineDetail(from, width, height, to)).slice();
  }
  const sizes = new Float32Array(data.length);
  let count = 0;
  for (let i = 1; i < data.length - 1; i++) {
    if (i % width === 0 || i % width === width - 1) continue;
    const d = data[i]! - 0.5 * (data[i - 1]! + data[i + 1]!);
    if (d * 0 === 0) sizes[count++] = Math.abs(d);
  }
  return sizes.slice(0, count);
}

/** The median of those sizes, K; NaN if there is none. */
export function medianDetail(rise: Raster<"K">): number {
  const { width, height, data } = rise;
  const kernels = kernelsFor(data.length);
  if (kernels === null) return median(lineDetail(rise));
  const from = kernels.put(data);
  const to = kernels.take(4 * data.length);
  const count = kernels.run.lineDetail(from, width, height, to);
  return middleOfRanks(new RanksByKernel(kernels, to, count));
}
