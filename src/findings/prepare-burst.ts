// findings: frames of a burst and the pair they make → the frames weighed, the rise of the weighted mean and of the
// early ones.
import type { Alignment } from "../align/align-frames.js";
import type { AveragedFrames } from "../clean/average-frames.js";
import { repairPixels } from "../clean/repair-pixels.js";
import { createRaster, type Raster } from "../core/raster.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { median } from "../numeric/median.js";
import { burstTimes } from "../rise/burst-times.js";
import { type BurstGrowth, burstWeights, earlyWeights } from "../rise/burst-weights.js";
import type { BurstMembers, OddFrame } from "../rise/find-jolts.js";
import { subtractFrames } from "../rise/subtract-frames.js";
import { temporalComponent } from "../rise/temporal-component.js";
import type { WeighedBurst } from "../rise/time-course.js";
import { weighFrames } from "../rise/weigh-frames.js";

/** A burst that was weighed for the pair's rise. */
export interface PreparedBurst extends WeighedBurst {
  readonly rateHz: number;
  /** The rise is that of about this time after power-on, s: Σ weight × time. */
  readonly effectiveTimeS: number;
  /** Variance of the weighted mean ÷ that of one frame. */
  readonly varianceShare: number;
  /** Frames that were left out. */
  readonly odd: readonly OddFrame[];
  /** How much of the heat shows in each frame; null where none stands out. */
  readonly growth: BurstGrowth | null;
  /** The early frames alone: ever fewer of them; empty where no growth stands out. */
  readonly early: readonly EarlyRise[];
  /** Weighted rise, its level not taken off, K. */
  readonly rise: Raster<"K">;
  readonly baselineFrames: number;
}

/** Rise of the early frames of a burst, its level not taken off. */
interface EarlyRise {
  /** K, not smoothed. */
  readonly rise: Raster<"K">;
  /** Smoothed by `EARLY_SMOOTH_PX`, K. */
  readonly smooth: Raster<"K">;
  /** Variance of these frames' weighted mean ÷ that of one frame. */
  readonly varianceShare: number;
}

/** How much of a burst is early: the fewer the frames, the nearer the heat is to its source, and the noisier it is. */
const EARLY_SHARES = [1 / 2, 1 / 4] as const;
/** Heat that all frames together do not show is looked for in this share of them, the last ones. */
const LAST_SHARE = 1 / 3;
/** The first frames are noisier than the mean: their peak is looked for at a size that keeps noise from making one,
 *  px. */
const EARLY_SMOOTH_PX = 1.5;

/** Weigh the frames of a burst by the heat that shows in them, and subtract the baseline from their weighted mean.
 *  @param frames those that belong together, °C, as averaged in `after`.
 *  @param rise of their plain mean, level taken off, K.
 *  @param gradient, shiftPx of the baseline, as for the noise of the rise.
 */
export function prepareBurst(
  frames: readonly Raster<"degC">[],
  { kept, odd }: BurstMembers,
  rateHz: number,
  after: AveragedFrames,
  alignment: Alignment,
  bad: Uint8Array,
  rise: Raster<"K">,
  gradient: Float32Array,
  shiftPx: number,
  baselineFrames: number,
): PreparedBurst {
  const { transform, separated } = alignment;
  const sigma = after.sigma === null ? 0 : median(after.sigma.data);
  const riseOf = (shares: Float64Array): WeighedRise => {
    const mean = repairPixels([weighFrames(frames, shares, after.offsetsK)], bad).frames[0]!;
    return { shares, mean, rise: subtractFrames(separated, mean, transform) };
  };
  const equal = new Float64Array(frames.length).fill(1 / frames.length);
  const growthIn = ({ shares, mean, rise: seen }: WeighedRise) =>
    temporalComponent(
      { frames, shares, mean, bad, pixelSigmaK: sigma },
      { rise: seen, gradient, shiftPx, transform },
    );
  // Faint heat that grows shows best in the last frames.
  const growth =
    growthIn({ shares: equal, mean: after.mean, rise }) ?? growthIn(riseOf(lastFrames(frames.length)));
  const weights = growth === null ? equal : burstWeights(growth, baselineFrames);
  const weighed = riseOf(weights);
  const early = EARLY_SHARES.flatMap((share) => (growth === null ? null : earlyWeights(growth, share)) ?? []);
  const times = burstTimes(1 + kept[kept.length - 1]!, rateHz);
  const timesS = Float64Array.from(kept, (k) => times[k]!);
  return {
    frames,
    timesS,
    weights,
    mean: weighed.mean,
    bad,
    pixelSigmaK: sigma,
    sensorSigma: null,
    rateHz,
    effectiveTimeS: weights.reduce((sum, weight, k) => sum + weight * timesS[k]!, 0),
    varianceShare: sumOfSquares(weights),
    odd,
    growth,
    early: early.map((shares) => smoothed(riseOf(shares))),
    rise: weighed.rise,
    baselineFrames,
  };
}

/** Courses of a burst that are heat and no noise: its own growth, and growths that are faster and slower, as far as the
 *  number of frames allows.
 */
export function burstCourses({ growth, timesS, rateHz }: PreparedBurst): ArrayLike<number>[] {
  const fastS = 1 / rateHz;
  const shapes = [fastS, 5 * fastS, fastS / 5].map((scaleS) => timesS.map((t) => Math.log1p(t / scaleS)));
  const most = Math.max(0, Math.floor(timesS.length / 4) - 1);
  return [...(growth === null ? [] : [growth.heights]), ...shapes].slice(0, most);
}

/** Weights of the frames, their mean, and its rise. */
interface WeighedRise {
  readonly shares: Float64Array;
  readonly mean: Raster<"degC">;
  readonly rise: Raster<"K">;
}

/** Equal weights for the last third of the frames. */
function lastFrames(count: number): Float64Array {
  const used = Math.max(1, Math.ceil(count * LAST_SHARE));
  return Float64Array.from({ length: count }, (_, k) => (k >= count - used ? 1 / used : 0));
}

function smoothed({ shares, rise }: WeighedRise): EarlyRise {
  const { width, height, data } = rise;
  const smooth = createRaster("K", width, height, gaussianFilter(data, width, height, EARLY_SMOOTH_PX));
  return { rise, smooth, varianceShare: sumOfSquares(shares) };
}

function sumOfSquares(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value * value, 0);
}
