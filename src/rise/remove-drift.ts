// rise: rise with the camera's drift in it → rise measured from what did not warm.
import type { OptionsOf } from "../core/options.js";
import { createRaster, type Raster } from "../core/raster.js";
import { evenStride } from "../numeric/even-stride.js";
import { SORT_TALLY_BYTES, sharedKernels } from "../numeric/kernels.js";
import { medianOfSorted, SIGMA_PER_MAD } from "../numeric/median.js";
import { scalePixels } from "../numeric/pixel-arithmetic.js";

/** Defaults of `removeDrift`. */
export const DRIFT_DEFAULTS = Object.freeze({
  /** Fewer reference pixels than this share of the frame can't carry the offset: the whole frame is used. */
  minReferenceShare: 0.03,
  /** Pixels further than this above the level are taken for warmed, in units of the noise. */
  clipSigma: 2,
  /** Rounds of clipping; the level settles within a few. */
  rounds: 12,
  /** Pixels that the level is taken from at most: their median is as good as a hundredth of the noise. */
  mostValues: 24_000,
  /** The result takes the place of the rise that was given, which nobody needs any more. */
  overwrites: false,
});

/** Standard error of a median ÷ that of a mean, Gaussian noise: √(π/2). */
const MEDIAN_ERROR = 1.2533;
/** Fewer values left by the clipping have no level worth the name. */
const LEAST_KEPT = 16;

/** Result of `removeDrift`. */
export interface DriftRemoval {
  readonly rise: Raster<"K">;
  /** What was taken off, K. */
  readonly offsetK: number;
  /** Standard error of the offset, K. */
  readonly offsetSigmaK: number;
  /** What the offset was measured on. */
  readonly reference: "off-board" | "whole frame";
}

/** Take off the common drift of an uncooled camera between two captures.
 *  The level is that of the pixels off the board where there are enough; else the lower bulk of the frame, since
 *  heat only adds. A whole frame that warmed evenly can't be told from drift.
 *  @param rise K, NaN = no reading; not modified unless `options.overwrites`.
 *  @param reference 1 = certainly off the board; null where no board is known.
 */
export function removeDrift(
  rise: Raster<"K">,
  reference: Uint8Array | null,
  options: OptionsOf<typeof DRIFT_DEFAULTS> = {},
): DriftRemoval {
  const o = { ...DRIFT_DEFAULTS, ...options };
  const { width, height, data } = rise;
  const stride = evenStride(data.length, width, o.mostValues);
  const off = reference === null ? new Float64Array(0) : rising(data, reference, stride);
  const enough = off.length >= (o.minReferenceShare * data.length) / stride;
  const level = lowerBulk(enough ? off : rising(data, null, stride), o.clipSigma, o.rounds);
  return {
    rise: createRaster("K", width, height, scalePixels(data, 1, -level.value, o.overwrites ? data : null)),
    offsetK: level.value,
    offsetSigmaK: level.sigma,
    reference: enough ? "off-board" : "whole frame",
  };
}

/** Readings of an even sample of the picture, of those that a mask names, in rising order. */
function rising(data: Float32Array, mask: Uint8Array | null, stride: number): Float64Array {
  const most = Math.ceil(data.length / stride);
  const kernels = mask === null ? sharedKernels() : null;
  if (kernels !== null) {
    const [from, to, other] = [kernels.put(data), kernels.take(4 * most), kernels.take(4 * most)];
    const known = kernels.run.pickKnown(from, from, data.length, stride, to, other);
    kernels.run.sortNumbers(to, known, other, kernels.take(SORT_TALLY_BYTES));
    return new Float64Array(kernels.floats(to, known));
  }
  const values = new Float64Array(most);
  let count = 0;
  for (let i = 0; i < data.length; i += stride) {
    if ((mask === null || mask[i] === 1) && data[i]! * 0 === 0) values[count++] = data[i]!;
  }
  return values.subarray(0, count).sort();
}

/** Median of what is left when the warm side has been clipped, again and again; spread from the cold side.
 *  @param sorted in rising order, so that what is left is the beginning of it.
 */
function lowerBulk(
  sorted: Float64Array,
  clipSigma: number,
  rounds: number,
): { value: number; sigma: number } {
  let kept = sorted.length;
  let value = medianOfSorted(sorted, kept);
  let spread = 0;
  for (let round = 0; round < rounds; round++) {
    // One side of a Gaussian: the median of its distances is that of both sides.
    spread = SIGMA_PER_MAD * (value - medianOfSorted(sorted, countUpTo(sorted, kept, value)));
    const next = countUpTo(sorted, kept, value + clipSigma * spread);
    if (next === kept || next < LEAST_KEPT) break;
    kept = next;
    value = medianOfSorted(sorted, kept);
  }
  return { value, sigma: (MEDIAN_ERROR * spread) / Math.sqrt(Math.max(1, kept)) };
}

/** How many of the first `count` numbers are no larger than a limit. */
function countUpTo(sorted: Float64Array, count: number, limit: number): number {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! <= limit) low = middle + 1;
    else high = middle;
  }
  return low;
}
