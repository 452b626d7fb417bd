// rise: frames of one camera position → the common offset of each, from what does not warm.
import type { OptionsOf } from "../core/options.js";
import type { Raster } from "../core/raster.js";
import { type FrameSeries, seriesOf } from "../frames/frame-series.js";
import { median, medianAbsoluteDeviation, SIGMA_PER_MAD } from "../numeric/median.js";

/** Defaults of `frameLevels`. */
export const LEVEL_DEFAULTS = Object.freeze({
  /** Frames, spread over the sequence, whose mean the others are compared with: enough that levels of a coarse file are
   *  split finely, few enough to cost nothing. */
  referenceFrames: 16,
  /** Pixels compared: a level is then as good as σ/√20 000, far below what any pixel can show. */
  mostPixels: 20_000,
  /** Fewer reference pixels than this share of the frame can't carry the level: the whole frame is used. */
  minReferenceShare: 0.03,
  /** Differences further from their median are left out: what warmed. */
  clipSigma: 2.5,
});

/** Find the common offset of each frame against the mean of the sequence.
 *  An uncooled camera drifts by more, from frame to frame, than a pixel's own noise averages down to; and all pixels
 *  together. Median, then the mean of what lies near it: as good as a mean, and nothing that warms enters.
 *  @param frames °C, one shape, NaN = no reading; not modified.
 *  @param reference 1 = certainly off the board; null where no board is known: then the bulk of the frame.
 *  @returns K, one for each frame; 0 for a frame without any reading.
 */
export function frameLevels(
  frames: readonly Raster<"degC">[],
  reference: Uint8Array | null,
  options: OptionsOf<typeof LEVEL_DEFAULTS> = {},
): Float64Array {
  const o = { ...LEVEL_DEFAULTS, ...options };
  const series = seriesOf(frames);
  const size = series.width * series.height;
  const places = samplePlaces(size, reference, o.minReferenceShare, o.mostPixels);
  const middle = meanOfSome(series, places, o.referenceFrames);
  const difference = new Float64Array(places.length);
  const scratch = new Float64Array(places.length);
  return Float64Array.from({ length: series.count }, (_, n) => {
    const data = series.frame(n);
    for (let k = 0; k < places.length; k++) difference[k] = data[places[k]!]! - middle[k]!;
    const centre = median(difference, scratch);
    if (Number.isNaN(centre)) return 0;
    const limit = o.clipSigma * SIGMA_PER_MAD * medianAbsoluteDeviation(difference, scratch, centre);
    let sum = 0;
    let count = 0;
    for (const value of difference) {
      if (!(Math.abs(value - centre) <= limit)) continue;
      sum += value;
      count++;
    }
    return count === 0 ? centre : sum / count;
  });
}

/** Indices of the pixels compared: evenly spread over the reference, or over the frame. */
function samplePlaces(
  size: number,
  reference: Uint8Array | null,
  minShare: number,
  mostPixels: number,
): Int32Array {
  const off: number[] = [];
  if (reference !== null) for (let i = 0; i < size; i++) if (reference[i] === 1) off.push(i);
  const enough = off.length >= minShare * size && off.length > 0;
  const count = enough ? off.length : size;
  const step = Math.max(1, count / mostPixels);
  return Int32Array.from({ length: Math.floor(count / step) }, (_, k) => {
    const at = Math.floor(k * step);
    return enough ? off[at]! : at;
  });
}

function meanOfSome(series: FrameSeries, places: Int32Array, most: number): Float64Array {
  const sum = new Float64Array(places.length);
  const known = new Float64Array(places.length);
  const used = Math.min(most, series.count);
  for (let n = 0; n < used; n++) {
    const data = series.frame(Math.floor(((n + 0.5) * series.count) / used));
    for (let k = 0; k < places.length; k++) {
      const value = data[places[k]!]!;
      if (Number.isNaN(value)) continue;
      sum[k]! += value;
      known[k]!++;
    }
  }
  return sum.map((total, k) => total / known[k]!);
}
