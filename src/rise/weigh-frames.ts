// rise: frames of a burst and their weights → the weighted mean.
import { createRaster, type Raster } from "../core/raster.js";
import { type FrameSeries, seriesOf } from "../frames/frame-series.js";
import { type Kernels, sharedKernels } from "../numeric/kernels.js";

/** Add up frames by their weights. Each frame's common offset is taken off before and put back as its weighted mean, so
 *  that a missing reading does not bring the drift of the other frames into a pixel.
 *  @param frames °C, one shape, NaN = no reading; not modified.
 *  @param weights one a frame, not negative, sum 1.
 *  @param offsetsK common offset of each frame against any level, K.
 *  @returns °C; NaN where no frame with weight has a reading.
 */
export function weighFrames(
  frames: readonly Raster<"degC">[],
  weights: ArrayLike<number>,
  offsetsK: ArrayLike<number>,
): Raster<"degC"> {
  const { width, height } = frames[0]!;
  const size = width * height;
  const series = seriesOf(frames);
  const kernels = sharedKernels();
  const { sums, missing } =
    kernels === null
      ? addPlainly(series, weights, offsetsK)
      : addByKernel(kernels, series, weights, offsetsK);
  let common = 0;
  for (let k = 0; k < series.count; k++) if (weights[k]! !== 0) common += weights[k]! * offsetsK[k]!;
  const out = createRaster("degC", width, height);
  for (let i = 0; i < size; i++) {
    const present = 1 - missing[i]!;
    out.data[i] = present > 1e-9 ? sums[i]! / present + common : Number.NaN;
  }
  return out;
}

/** Sums of what is there, and of the weights of what is not. */
interface WeightedSums {
  readonly sums: Float64Array;
  readonly missing: Float64Array;
}

function addPlainly(
  series: FrameSeries,
  weights: ArrayLike<number>,
  offsetsK: ArrayLike<number>,
): WeightedSums {
  const sums = new Float64Array(series.width * series.height);
  const missing = new Float64Array(sums.length);
  for (let k = 0; k < series.count; k++) {
    const weight = weights[k]!;
    if (weight === 0) continue;
    const data = series.frame(k);
    const offset = offsetsK[k]!;
    for (let i = 0; i < sums.length; i++) {
      const value = data[i]! - offset;
      if (value * 0 === 0) sums[i]! += weight * value;
      else missing[i]! += weight;
    }
  }
  return { sums, missing };
}

/** The same by the compiled kernel, to the last bit. @returns views of its memory. */
function addByKernel(
  kernels: Kernels,
  series: FrameSeries,
  weights: ArrayLike<number>,
  offsetsK: ArrayLike<number>,
): WeightedSums {
  const size = series.width * series.height;
  // The kernel takes two pixels at a time.
  const data = kernels.take(4 * (size + 1));
  const [to, lacking] = [kernels.take(8 * (size + 1)), kernels.take(8 * (size + 1))];
  const [sums, missing] = [kernels.doubles(to, size).fill(0), kernels.doubles(lacking, size).fill(0)];
  for (let k = 0; k < series.count; k++) {
    if (weights[k]! === 0) continue;
    series.read(k, 0, kernels.floats(data, size));
    kernels.run.weighFrame(data, size, weights[k]!, offsetsK[k]!, to, lacking);
  }
  return { sums, missing };
}
