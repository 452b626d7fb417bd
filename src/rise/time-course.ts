// rise: frames of a burst and the place of a spot → its height in each frame, with noise.
import { movePoint, type RigidTransform } from "../align/rigid-transform.js";
import type { Raster } from "../core/raster.js";
import type { FramePoint } from "../core/units.js";
import { seriesOf } from "../frames/frame-series.js";
import { applyKernel, kernelNoise, spotKernel } from "./spot-kernel.js";

/** A burst as it was brought into the rise. */
export interface WeighedBurst {
  /** Frames that were used, °C, in the sensor's grid. */
  readonly frames: readonly Raster<"degC">[];
  /** When each was taken, s from power-on. */
  readonly timesS: Float64Array;
  /** Their weights in the rise; sum 1. */
  readonly weights: Float64Array;
  /** Their weighted mean, °C. */
  readonly mean: Raster<"degC">;
  /** Anything but 0: a faulty pixel of the sensor. */
  readonly bad: Uint8Array;
  /** Noise of one frame, of the ordinary pixel and, where it is known, of each, K; NaN = unknown. */
  readonly pixelSigmaK: number;
  readonly sensorSigma: Raster<"K"> | null;
}

/** Height of a spot over the frames of a burst. */
export interface TimeCourse {
  readonly timesS: Float64Array;
  readonly riseK: Float64Array;
  /** Noise of each height that is its own, K. */
  readonly sigmaK: Float64Array;
}

/** Narrowest and widest spot that is followed, Gaussian σ, px. */
const NARROWEST_PX = 1.2;
const WIDEST_PX = 4;

/** Follow the height of a spot above its surroundings through a burst.
 *  In each frame it is its height in the rise, plus what the frame differs there from the weighted mean; all heights
 *  share the error of the baseline.
 *  @param rise of the weighted mean, K, in the baseline's grid.
 *  @param at place of the spot in the baseline's grid.
 *  @param widthPx its Gaussian width, px.
 *  @param transform from baseline to powered.
 *  @returns null where the spot lies at the frame's border or in a hole.
 */
export function timeCourse(
  burst: WeighedBurst,
  rise: Raster<"K">,
  at: FramePoint,
  widthPx: number,
  transform: RigidTransform,
): TimeCourse | null {
  const { frames, timesS, mean, bad, pixelSigmaK, sensorSigma } = burst;
  const { width, height } = rise;
  const size = Math.min(WIDEST_PX, Math.max(NARROWEST_PX, widthPx));
  const inRise = spotKernel(at, size, width, height, (i) => rise.data[i]! * 0 === 0);
  const moved = movePoint(at, transform, rise);
  const inFrame = spotKernel(moved, size, width, height, (i) => bad[i] === 0 && mean.data[i]! * 0 === 0);
  if (inRise === null || inFrame === null) return null;
  const weightedK = applyKernel(inRise, rise.data);
  const change = new Float32Array(rise.data.length);
  const sigma = kernelNoise(inFrame, (i) => {
    const own = sensorSigma === null ? Number.NaN : sensorSigma.data[i]!;
    return Number.isNaN(own) ? pixelSigmaK : own;
  });
  const series = seriesOf(frames);
  const first = inFrame.pixels[0]!;
  const last = inFrame.pixels[inFrame.pixels.length - 1]!;
  return {
    timesS,
    riseK: Float64Array.from(timesS, (_, k) => {
      const data = series.frame(k, first, last + 1);
      for (const i of inFrame.pixels) change[i] = data[i - first]! - mean.data[i]!;
      return weightedK + applyKernel(inFrame, change);
    }),
    sigmaK: new Float64Array(frames.length).fill(sigma),
  };
}
