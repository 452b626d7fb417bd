// rise: frames of a burst and their weights → the weighted mean.
import { createRaster, type Raster } from "../core/raster.js";
import { seriesOf } from "../frames/frame-series.js";

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
  const sums = new Float64Array(width * height);
  const missing = new Float64Array(sums.length);
  let common = 0;
  const series = seriesOf(frames);
  for (let k = 0; k < series.count; k++) {
    const weight = weights[k]!;
    if (weight === 0) continue;
    const data = series.frame(k);
    const offset = offsetsK[k]!;
    common += weight * offset;
    for (let i = 0; i < sums.length; i++) {
      const value = data[i]! - offset;
      if (value * 0 === 0) sums[i]! += weight * value;
      else missing[i]! += weight;
    }
  }
  const out = createRaster("degC", width, height);
  for (let i = 0; i < sums.length; i++) {
    const present = 1 - missing[i]!;
    out.data[i] = present > 1e-9 ? sums[i]! / present + common : Number.NaN;
  }
  return out;
}
