// numeric: numbers, some of them NaN → median, quantile and the spread measured by medians.
import { copyNumbers, MANY, type ManyNumbers, manyNumbers, type NearRank, wholeOf } from "./many-numbers.js";
import { type RanksByKernel, ranksByKernel } from "./ranks-by-kernel.js";
import { select } from "./select-rank.js";

/** The numbers these functions take; NaN = no reading, ignored. */
export type Numbers = Float32Array | Float64Array | Uint16Array | Int32Array | readonly number[];

/** From median absolute deviation to the standard deviation of a Gaussian: 1/Φ⁻¹(3/4).
 *  Rousseeuw & Croux 1993, J. Am. Stat. Assoc. 88:1273 (citation from memory); recomputed.
 */
export const SIGMA_PER_MAD = 1.482602218505602;

/** Find the median of the numbers that are not NaN; the mean of the middle two if their count is even.
 *  Exact, and by selection: nothing is sorted, `values` stays as it is.
 *  @param scratch working memory, at least as long as `values`; saves an allocation in repeated calls.
 *  @returns NaN if there is no number.
 */
export function median(values: Numbers, scratch?: Float64Array): number {
  const ranks = ranksByKernel(values);
  if (ranks !== null) return middleOfRanks(ranks);
  const work = scratchFor(values, scratch);
  if (values.length >= MANY) return middleOfMany(manyNumbers(values, work), work);
  const count = copyNumbers(values, work);
  return middle(work, count, wholeOf(count, count >> 1));
}

/** Give the median of numbers in rising order, none of them NaN.
 *  @param count how many of them, from the first on.
 *  @returns NaN if there is none.
 */
export function medianOfSorted(sorted: Float64Array, count: number): number {
  if (count === 0) return Number.NaN;
  const half = count >> 1;
  return count % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}

/** Find a quantile of the numbers that are not NaN, linear between neighbours in rank.
 *  Method: Hyndman & Fan 1996, definition 7 (position (n−1)·p), the default of NumPy and R.
 *  @param p from 0 (smallest) to 1 (largest).
 *  @returns NaN if there is no number.
 *  @throws RangeError if p is outside 0…1 (a fault of the caller).
 */
export function quantile(values: Numbers, p: number, scratch?: Float64Array): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`a quantile lies between 0 and 1, not at ${p}`);
  const ranks = ranksByKernel(values);
  if (ranks !== null) return quantileOfRanks(ranks, p);
  const work = scratchFor(values, scratch);
  const many = values.length >= MANY ? manyNumbers(values, work) : null;
  const count = many?.count ?? copyNumbers(values, work);
  if (count === 0) return Number.NaN;
  const position = (count - 1) * p;
  const rank = Math.floor(position);
  const near = many?.near(rank) ?? wholeOf(count, rank);
  const low = select(work, near.count, near.rank);
  const share = position - rank;
  if (share === 0) return low;
  const high = smallest(work, near.rank + 1, near.count);
  return low + share * (high - low);
}

/** Find the median of the distances from `centre`, by default from the median.
 *  @returns same unit as the values; NaN if there is no number.
 */
export function medianAbsoluteDeviation(values: Numbers, scratch?: Float64Array, centre?: number): number {
  const ranks = ranksByKernel(values);
  if (ranks !== null) return deviationOfRanks(ranks, centre);
  const work = scratchFor(values, scratch);
  if (values.length >= MANY) {
    const many = manyNumbers(values, work);
    many.takeDistances(centre ?? middleOfMany(many, work));
    return middleOfMany(many, work);
  }
  const count = copyNumbers(values, work);
  const near = wholeOf(count, count >> 1);
  takeDistances(work, count, centre ?? middle(work, count, near));
  return middle(work, count, near);
}

/** Estimate the standard deviation of the Gaussian bulk: 1.4826 × the median absolute deviation.
 *  Half the numbers may be anything; 37 % as efficient as the standard deviation on clean numbers.
 *  @returns same unit as the values; NaN if there is no number.
 */
export function robustSigma(values: Numbers, scratch?: Float64Array): number {
  return SIGMA_PER_MAD * medianAbsoluteDeviation(values, scratch);
}

/** As `median`, of numbers in the kernels' memory. */
export function middleOfRanks(ranks: RanksByKernel): number {
  const { count } = ranks;
  if (count === 0) return Number.NaN;
  const [upper, lower] = ranks.at(count >> 1, -1);
  return count % 2 === 1 ? upper : between(lower, upper);
}

/** As `medianAbsoluteDeviation`, of numbers in the kernels' memory. */
export function deviationOfRanks(ranks: RanksByKernel, centre?: number): number {
  ranks.takeDistances(centre ?? middleOfRanks(ranks));
  return middleOfRanks(ranks);
}

function quantileOfRanks(ranks: RanksByKernel, p: number): number {
  if (ranks.count === 0) return Number.NaN;
  const position = (ranks.count - 1) * p;
  const rank = Math.floor(position);
  const share = position - rank;
  const [low, high] = ranks.at(rank, 1);
  return share === 0 ? low : low + share * (high - low);
}

function scratchFor(values: Numbers, scratch: Float64Array | undefined): Float64Array {
  if (scratch === undefined) return new Float64Array(values.length);
  if (scratch.length < values.length) throw new RangeError("scratch is shorter than the values");
  return scratch;
}

function takeDistances(work: Float64Array, count: number, from: number): void {
  for (let i = 0; i < count; i++) work[i] = Math.abs(work[i]! - from);
}

function middleOfMany(many: ManyNumbers, work: Float64Array): number {
  return many.count === 0 ? Number.NaN : middle(work, many.count, many.near(many.count >> 1));
}

/** Middle of `count` numbers, of which the upper middle and those near it are given. */
function middle(work: Float64Array, count: number, near: NearRank): number {
  if (count === 0) return Number.NaN;
  const upper = select(work, near.count, near.rank);
  if (count % 2 === 1) return upper;
  let lower = work[0]!;
  for (let i = 1; i < near.rank; i++) if (work[i]! > lower) lower = work[i]!;
  return between(lower, upper);
}

/** Give the median of an even number of values by the two in the middle. */
export function between(lower: number, upper: number): number {
  // An equal pair is returned as it is: the sum of two infinities or of two huge numbers would not be.
  return lower === upper ? upper : lower / 2 + upper / 2;
}

function smallest(work: Float64Array, from: number, to: number): number {
  let least = work[from]!;
  for (let i = from + 1; i < to; i++) if (work[i]! < least) least = work[i]!;
  return least;
}
