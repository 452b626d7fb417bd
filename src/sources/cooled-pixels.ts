// sources: rise over the board → the pixels that cooled, which no heat explains, and their surroundings.
import type { Raster } from "../core/raster.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { median, SIGMA_PER_MAD } from "../numeric/median.js";

/** A pixel this far below the board's level, in units of its downward spread, has cooled … */
const COOLED_SIGMA = 6;
/** … and where it is not alone, its surroundings are left out as far as this share of it, blurred, reaches. */
const COOLED_SHARE = 0.04;
/** Sizes at which that is asked, standard deviations in px, and how far the optics spread what cooled: a pixel by itself, and
 *  a face that is cooler by less than one pixel's noise tells. */
const SIZES = Object.freeze([
  { sigmaPx: 0, reachPx: 1.2 },
  { sigmaPx: 1.5, reachPx: 1.5 },
]);
/** A mean over less of the board than this is none. */
const LEAST_WEIGHT = 0.5;

/** Find pixels that got cooler than the rest of the board by more than it varies downwards, and their surroundings. Power
 *  cools nothing: whatever this is, it is no heat, and the fit must not bend to it: the dip would raise all around.
 *  @param onBoard 1 = on the board.
 *  @returns 1 = left out.
 */
export function cooledPixels({ width, height, data }: Raster<"K">, onBoard: Uint8Array): Uint8Array {
  const out = new Uint8Array(data.length);
  const counts = new Float32Array(data.length);
  for (let i = 0; i < counts.length; i++) if (onBoard[i] === 1 && data[i]! * 0 === 0) counts[i] = 1;
  for (const { sigmaPx, reachPx } of SIZES) {
    const smooth = meanOver(data, counts, width, height, sigmaPx);
    const cold = belowSpread(smooth);
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
  const out = new Float32Array(data.length).fill(Number.NaN);
  for (let i = 0; i < out.length; i++) {
    if (counts[i] === 1 && shares[i]! > LEAST_WEIGHT) out[i] = sums[i]! / shares[i]!;
  }
  return out;
}

/** 1 = below the median by more than the lower half of the picture spreads. */
function belowSpread(values: Float32Array): Float32Array {
  const known = new Float32Array(values.length);
  let count = 0;
  for (let i = 0; i < values.length; i++) if (values[i]! * 0 === 0) known[count++] = values[i]!;
  const level = median(known.subarray(0, count));
  const depths = new Float32Array(count);
  let lower = 0;
  for (let k = 0; k < count; k++) if (known[k]! <= level) depths[lower++] = level - known[k]!;
  const spread = SIGMA_PER_MAD * median(depths.subarray(0, lower));
  const limit = level - COOLED_SIGMA * spread;
  const out = new Float32Array(values.length);
  for (let i = 0; i < out.length; i++) if (values[i]! < limit) out[i] = 1;
  return out;
}
