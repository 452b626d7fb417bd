// align: picture → its detail between two Gaussian widths.
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { differenceWhereRead, fillFrom } from "../numeric/pixel-arithmetic.js";
import { wideGaussian } from "../numeric/wide-gaussian.js";

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
  const coarse = wideGaussian(data, width, height, coarseSigmaPx);
  const fine = gaussianFilter(fillFrom(data, coarse), width, height, fineSigmaPx);
  return differenceWhereRead(fine, coarse, data);
}
