// align: picture → its detail between two Gaussian widths.
import { gaussianFilter } from "../numeric/gaussian-filter.js";
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
  const filled = new Float32Array(data.length);
  for (let i = 0; i < data.length; i++) filled[i] = data[i]! * 0 === 0 ? data[i]! : coarse[i]!;
  const out = gaussianFilter(filled, width, height, fineSigmaPx);
  for (let i = 0; i < out.length; i++) out[i] = data[i]! * 0 === 0 ? out[i]! - coarse[i]! : Number.NaN;
  return out;
}
