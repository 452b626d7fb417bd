// align: picture → its detail between two Gaussian widths.
import { gaussianAt, gaussianFilter } from "../numeric/gaussian-filter.js";
import { sharedKernels } from "../numeric/kernels.js";
import { differenceWhereRead, fillFrom } from "../numeric/pixel-arithmetic.js";
import { wideAt, wideGaussian } from "../numeric/wide-gaussian.js";

/** Keep the detail between two Gaussian widths.
 *  Holes are filled by the coarse picture before the fine one is made, so that neither is drawn to a value that is not
 *  there, and are holes again in the result.
 *  @param data any unit, width×height, NaN = left out; not modified.
 *  @returns same unit and shape; NaN where data is.
 */
export function bandPass(
  data: Float32Array,
  width: number,
  height: number,
  fineSigmaPx: number,
  coarseSigmaPx: number,
): Float32Array {
  const kernels = sharedKernels();
  if (kernels !== null) {
    const from = kernels.put(data);
    const coarse = wideAt(kernels, from, width, height, coarseSigmaPx);
    const filled = kernels.take(4 * data.length);
    kernels.run.fillFrom(from, coarse, data.length, filled);
    const fine = gaussianAt(kernels, filled, width, height, fineSigmaPx);
    kernels.run.differenceWhereRead(fine, coarse, from, data.length, filled);
    return kernels.floats(filled, data.length).slice();
  }
  const coarse = wideGaussian(data, width, height, coarseSigmaPx);
  const fine = gaussianFilter(fillFrom(data, coarse), width, height, fineSigmaPx);
  return differenceWhereRead(fine, coarse, data);
}
