// rise: how much the heat shows in each frame of a burst → weights of the frames, and of the early ones alone.
import { risingOnly } from "../numeric/rising-only.js";

/** Heat in each frame of a burst, as `temporalComponent` measures it. */
export interface BurstGrowth {
  /** Height of the heat, in any unit, one value a frame. */
  readonly heights: Float64Array;
  /** Noise of each height, the same unit. */
  readonly sigma: number;
}

/** The early frames begin where the heat first shows this share of its greatest height. */
const FIRST_HEAT_SHARE = 0.1;

/** Weigh the frames of a burst so that the heat stands out of the noise as far as it can.
 *  The baseline is subtracted from the weighted mean as a whole, so its noise enters with (Σw)² whatever the weights:
 *  the ratio (Σwg)² / (Σw² + β(Σw)²), with β = noise of the mean baseline ÷ that of one frame, squared, is largest for
 *  w in proportion to g − c, c = Σg/(1/β + n), and under w ≥ 0 for the same with the sum over the frames that are left
 *  (conditions of Karush, Kuhn and Tucker). β = 0 gives the matched filter w ∝ g (North 1943, from memory). The heights
 *  are made to rise only, are smoothed, and their variation is drawn towards none by as much as noise would have made
 *  (James & Stein 1961, from memory): a burst without heat gets equal weights, and so does one in which the weights
 *  would not have been better than equal ones.
 *  @param baselineFrames number of frames in the mean baseline, at least 1; Infinity: a baseline without noise.
 *  @returns not negative, sum 1.
 */
export function burstWeights(growth: BurstGrowth, baselineFrames: number): Float64Array {
  const { heights } = growth;
  const count = heights.length;
  const equal = new Float64Array(count).fill(1 / count);
  const smooth = smoothHeights(growth);
  if (smooth === null) return equal;
  const beta = 1 / baselineFrames;
  const ranked = [...smooth].sort((a, b) => b - a);
  let level = 0;
  let sum = 0;
  for (let n = 0; n < count; n++) {
    const height = ranked[n]!;
    // One frame more is wanted while it stands above the level that it would set.
    if (beta > 0 && height <= (sum + height) / (baselineFrames + n + 1)) break;
    sum += height;
    level = beta > 0 ? sum / (baselineFrames + n + 1) : 0;
  }
  const above = smooth.map((height) => Math.max(0, height - level));
  const total = above.reduce((a, b) => a + b, 0);
  if (!(total > 0)) return equal;
  const weights = above.map((height) => height / total);
  return contrastToNoise(weights, heights, beta) >= contrastToNoise(equal, heights, beta) ? weights : equal;
}

/** Weigh the early frames alone, in proportion to the heat in them: there it has spread least, and uneven copper has
 *  pulled its centre least.
 *  @param share of the burst that counts as early, below 1.
 *  @returns not negative, sum 1; null where the heat shows no growth or the burst is too short.
 */
export function earlyWeights(growth: BurstGrowth, share: number): Float64Array | null {
  const smooth = smoothHeights(growth);
  if (smooth === null) return null;
  const count = smooth.length;
  const highest = smooth[count - 1]!;
  const first = smooth.findIndex((height) => height > FIRST_HEAT_SHARE * highest);
  const last = first + Math.max(2, Math.ceil(share * count));
  if (first < 0 || last >= count) return null;
  const early = smooth.map((height, k) => (k >= first && k < last ? height : 0));
  const total = early.reduce((a, b) => a + b, 0);
  return early.map((height) => height / total);
}

/** Σwg ÷ √(Σw² + β), for weights that sum to 1. */
export function contrastToNoise(weights: Float64Array, heights: ArrayLike<number>, beta: number): number {
  let contrast = 0;
  let square = 0;
  for (let k = 0; k < weights.length; k++) {
    contrast += weights[k]! * heights[k]!;
    square += weights[k]! * weights[k]!;
  }
  return contrast / Math.sqrt(square + beta);
}

/** Heights that rise only, smoothed, not negative, drawn towards their mean; null where they show no growth. */
function smoothHeights({ heights, sigma }: BurstGrowth): Float64Array | null {
  const count = heights.length;
  if (count < 3) return null;
  const mean = heights.reduce((a, b) => a + b, 0) / count;
  let variation = 0;
  for (const height of heights) variation += (height - mean) ** 2;
  const kept = 1 - ((count - 3) * sigma * sigma) / variation;
  if (!(kept > 0) || !(mean > 0)) return null;
  const rising = risingOnly(heights);
  const smooth = rising.map((height, k) => {
    const before = rising[Math.max(0, k - 1)]!;
    const after = rising[Math.min(count - 1, k + 1)]!;
    return Math.max(0, mean + kept * ((before + 2 * height + after) / 4 - mean));
  });
  return smooth[count - 1]! > smooth[0]! ? smooth : null;
}
