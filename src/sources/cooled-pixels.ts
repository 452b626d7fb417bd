// sources: rise over the board → the pixels that cooled, which no heat explains, and their surroundings.
import type { Raster } from "../core/raster.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { median, SIGMA_PER_MAD } from "../numeric/median.js";
import { meanWhere } from "../numeric/pixel-errors.js";

/** A pixel this far below the board's level, in units of its downward spread, has cooled … */
const COOLED_SIGMA = 6;
/** … and where it is not alone, its surroundings are left out as far as this share of it, blurred, reaches. */
const COOLED_SHARE = 0.04;
/** Sizes at which that is asked, standard deviations in px, and how far the optics spread what cooled: a pixel by
 *  itself, and a face that is cooler by less than one pixel's noise tells. */
const SIZES = Object.freeze([
  { sigmaPx: 0, reachPx: 1.2 },
  { sigmaPx: 1.5, reachPx: 1.5 },
]);
/** A board that varies by less than this share of one pixel's noise stands on equal levels: coarse steps that no
 *  resampling has smoothed hide how much it varies, and its spread says nothing. */
const HIDDEN_SHARE = 0.5;
/** There a mean has cooled beyond so many of a pixel's noise. Rounding two frames makes a noise of step/√6 and moves a
 *  difference by one step at most, that is by √6 of it, and all pixels of a face alike. */
const HIDDEN_MEAN_SIGMA = Math.sqrt(6);
/** A mean over less of the board than this is none. */
const LEAST_WEIGHT = 0.5;

/** Find pixels that got cooler than the rest of the board by more than it varies downwards, and their surroundings.
 *  Power cools nothing: whatever this is, it is no heat, and the fit must not bend to it: the dip would raise all
 *  around.
 *  @param onBoard 1 = on the board.
 *  @param noiseK noise of one pixel of the rise, K, rounding to levels included; not modified.
 *  @returns 1 = left out.
 */
export function cooledPixels(
  { width, height, data }: Raster<"K">,
  onBoard: Uint8Array,
  noiseK: Float32Array,
): Uint8Array {
  const out = new Uint8Array(data.length);
  const usualK = median(noiseK.filter((_, i) => onBoard[i] === 1));
  let isHidden = false;
  const counts = new Float32Array(data.length);
  for (let i = 0; i < counts.length; i++) if (onBoard[i] === 1 && data[i]! * 0 === 0) counts[i] = 1;
  for (const { sigmaPx, reachPx } of SIZES) {
    const smooth = meanOver(data, counts, width, height, sigmaPx);
    const { level, spread } = lowerSpread(smooth);
    if (sigmaPx === 0) isHidden = spread < HIDDEN_SHARE * usualK;
    const leastK = isHidden ? (sigmaPx === 0 ? COOLED_SIGMA : HIDDEN_MEAN_SIGMA) * usualK : 0;
    const limit = level - Math.max(COOLED_SIGMA * spread, leastK);
    const cold = smooth.map((value) => (value < limit ? 1 : 0));
    const near = gaussianFilter(cold, width, height, reachPx);
    for (let i = 0; i < out.length; i++) if (near[i]! > COOLED_SHARE) out[i] = 1;
  }
  return out;
}

/** Weighted mean around every pixel that counts; NaN elsewhere. */
function meanOver(
  data: Float32Array,
  counts: Float32Array,
  width: number,
  height: number,
  sigmaPx: number,
): Float32Array {
  const own = new Float32Array(data.length);
  for (let i = 0; i < own.length; i++) if (counts[i] === 1) own[i] = data[i]!;
  const sums = sigmaPx === 0 ? own : gaussianFilter(own, width, height, sigmaPx);
  const shares = sigmaPx === 0 ? counts : gaussianFilter(counts, width, height, sigmaPx);
  return meanWhere(sums, shares, counts, LEAST_WEIGHT);
}

/** Median, and how far the lower half of the picture spreads below it, as a standard deviation. */
function lowerSpread(values: Float32Array): { level: number; spread: number } {
  const known = new Float32Array(values.length);
  let count = 0;
  for (let i = 0; i < values.length; i++) if (values[i]! * 0 === 0) known[count++] = values[i]!;
  const level = median(known.subarray(0, count));
  const depths = new Float32Array(count);
  let lower = 0;
  for (let k = 0; k < count; k++) if (known[k]! <= level) depths[lower++] = level - known[k]!;
  return { level, spread: SIGMA_PER_MAD * median(depths.subarray(0, lower)) };
}
