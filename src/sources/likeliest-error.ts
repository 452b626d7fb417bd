// sources: what a fit leaves → by which share of the rise the plate model errs.
import type { PictureSize } from "./picture.js";
import { blockEnergies, scaleOf } from "./residual-scale.js";

/** A block counts with no more than this many times what is usual: it may hold a source not yet found. */
const MOST_ENERGY = 9;

/** Choose, of some shares, the one under which what a fit leaves is the likeliest. A small share makes it unlikely by
 *  its size, a large one by its width: −2 log likelihood of Gaussian blocks with one common scale, per block.
 *  @param shares to choose from, not empty.
 *  @param varianceOf K² per pixel under a share, NaN = left out.
 *  @param residual K per pixel, NaN = left out; not modified.
 */
export function likeliestError(
  shares: readonly number[],
  varianceOf: (share: number) => Float32Array,
  residual: Float32Array,
  pictures: readonly PictureSize[],
): number {
  let [best, least] = [shares[0]!, Number.POSITIVE_INFINITY];
  for (const share of shares) {
    const variance = varianceOf(share);
    const blocks = blockEnergies(residual, variance, pictures);
    const scale = scaleOf(blocks);
    const energy = blocks.reduce((sum, block) => sum + Math.min(block / scale, MOST_ENERGY), 0);
    const misfit = energy / Math.max(1, blocks.length) + Math.log(scale) + meanLog(variance, residual);
    if (misfit < least) [best, least] = [share, misfit];
  }
  return best;
}

/** Mean logarithm of the variance of the pixels that take part. */
function meanLog(variance: Float32Array, residual: Float32Array): number {
  let [sum, count] = [0, 0];
  for (let i = 0; i < variance.length; i++) {
    if (!(variance[i]! > 0) || !(residual[i]! * 0 === 0)) continue;
    sum += Math.log(variance[i]!);
    count++;
  }
  return count > 0 ? sum / count : 0;
}
