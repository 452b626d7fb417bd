// rise: frames of a burst and where heat shows in their mean → how much of it shows in each frame.
import { affineOf, isStill, type RigidTransform } from "../align/rigid-transform.js";
import type { Raster } from "../core/raster.js";
import { createRaster } from "../core/raster.js";
import { seriesOf } from "../frames/frame-series.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { warpRaster } from "../numeric/warp.js";
import type { BurstGrowth } from "./burst-weights.js";
import { noiseByGradient } from "./noise-by-gradient.js";

/** Size at which heat is looked for, Gaussian σ, px, and that of its surroundings. */
const SPOT_PX = 2.2;
const SURROUND_PX = 4.4;
/** A pixel belongs to the heat from this significance on: some 0.03 pixels of a 160×120 frame by chance. */
const LEAST_SIGMA = 4.5;
/** … and counts up to this one: beyond it nothing is gained, and a strong source would silence the others. */
const MOST_SIGMA = 15;

/** Frames in the sensor's grid and their mean; none is modified. */
export interface FrameStack {
  /** °C, NaN = no reading. */
  readonly frames: readonly Raster<"degC">[];
  /** Weights of the frames in their mean; sum 1. */
  readonly shares: ArrayLike<number>;
  readonly mean: Raster<"degC">;
  /** Anything but 0: a faulty pixel of the sensor. */
  readonly bad: Uint8Array;
  /** Noise of a pixel of one frame, K. */
  readonly pixelSigmaK: number;
}

/** Rise of that mean, in the baseline's grid; not modified. */
export interface SeenRise {
  /** K, NaN = no reading. */
  readonly rise: Raster<"K">;
  /** Gradient of the baseline, K/px. */
  readonly gradient: Float32Array;
  /** Largest shift that may be left between the frames, px. */
  readonly shiftPx: number;
  /** From baseline to powered. */
  readonly transform: RigidTransform;
}

/** Measure how much of the heat in a burst's mean rise shows in each of its frames: the first temporal component of the
 *  local contrast, with the mean rise itself as its picture.
 *  The picture is the contrast where it is significant, up to a limit, and 0 elsewhere. Projecting a frame's contrast
 *  on it is the same as projecting the frame on the picture's own contrast, for the filter is symmetric: one sum over
 *  the pixels a frame. What does not change during the burst (edges that a nudge left) counts alike in all frames.
 *  @returns heights as multiples of the mean's; null where no heat stands out.
 */
export function temporalComponent(stack: FrameStack, seen: SeenRise): BurstGrowth | null {
  const { frames, shares, mean, bad, pixelSigmaK } = stack;
  const { rise, gradient, shiftPx, transform } = seen;
  const { width, height } = rise;
  const contrast = createRaster("K", width, height, contrastOf(rise.data, width, height));
  const noise = noiseByGradient(contrast, gaussianFilter(gradient, width, height, SPOT_PX), { shiftPx });
  let whole = 0;
  const picture = new Float32Array(width * height);
  for (let i = 0; i < picture.length; i++) {
    const value = contrast.data[i]!;
    if (!(value > LEAST_SIGMA * noise.data[i]!)) continue;
    picture[i] = Math.min(value, MOST_SIGMA * noise.data[i]!);
    whole += picture[i]! * value;
  }
  if (whole === 0) return null;
  const projector = intoPowered(contrastOf(picture, width, height), rise, transform);
  const used = Int32Array.from(projector.keys()).filter((i) => projector[i]! !== 0 && bad[i] === 0);
  const amounts = Float64Array.from(used, (i) => projector[i]!);
  const levels = Float64Array.from(used, (i) => mean.data[i]!);
  let gain = 0;
  for (const amount of amounts) gain += amount * amount;
  const series = seriesOf(frames);
  // Where heat shows may be a small part of the frame.
  const start = used[0] ?? 0;
  const end = (used.at(-1) ?? 0) + 1;
  const heights = Float64Array.from(
    shares,
    (_, k) => projection(series.frame(k, start, end), start, used, amounts, levels) / whole,
  );
  // The mean's own height is 1 by definition; what is left of it comes from borders and bad pixels.
  let level = 0;
  for (let k = 0; k < heights.length; k++) level += shares[k]! * heights[k]!;
  return {
    heights: heights.map((value) => 1 + value - level),
    sigma: (pixelSigmaK * Math.sqrt(gain)) / whole,
  };
}

/** Σ amount × (reading − level) over the pixels that have a reading. @param start of the data in the frame. */
function projection(
  data: Float32Array,
  start: number,
  used: Int32Array,
  amounts: Float64Array,
  levels: Float64Array,
): number {
  let sum = 0;
  for (let n = 0; n < used.length; n++) {
    const change = data[used[n]! - start]! - levels[n]!;
    if (change * 0 === 0) sum += amounts[n]! * change;
  }
  return sum;
}

function contrastOf(data: Float32Array, width: number, height: number): Float32Array {
  const fine = gaussianFilter(data, width, height, SPOT_PX);
  const wide = gaussianFilter(data, width, height, SURROUND_PX);
  for (let i = 0; i < fine.length; i++) fine[i] = fine[i]! - wide[i]!;
  return fine;
}

/** Bring a picture from the baseline's grid to the powered one; 0 where it comes from outside. */
function intoPowered(data: Float32Array, size: Raster, transform: RigidTransform): Float32Array {
  if (isStill(transform)) return data;
  const [a, b, c, d, e, f] = affineOf(transform, size);
  // The inverse of a turn is its transpose.
  const back = [a, d, -(a * c + d * f), b, e, -(b * c + e * f)] as const;
  const moved = warpRaster(data, size.width, size.height, back, { order: "linear" });
  for (let i = 0; i < moved.length; i++) if (!(moved[i]! * 0 === 0)) moved[i] = 0;
  return moved;
}
