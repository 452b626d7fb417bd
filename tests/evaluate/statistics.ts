// evaluate: numbers → shares, quantiles and scatter, each with its 95 % interval.

/** A share with its 95 % interval. */
export interface Share {
  readonly count: number;
  readonly of: number;
  readonly share: number;
  readonly low: number;
  readonly high: number;
}

/** A number with its 95 % interval; ends may be infinite where too little was measured. */
export interface Estimate {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly of: number;
}

/** Two-sided 95 % and 90 % of a normal distribution. */
export const Z95 = 1.959964;
export const Z90 = 1.6449;
/** Median of |z| of a normal distribution. */
const MEDIAN_Z = 0.6744898;

/** The share that is true. */
export function shareOf(values: readonly boolean[]): Share | null {
  return shareOfCount(values.filter((value) => value).length, values.length);
}

/** A share from counts, with Wilson's score interval at 95 % (Wilson 1927, doi 10.1080/01621459.1927.10502953).
 *  @returns null of nothing.
 */
export function shareOfCount(count: number, of: number): Share | null {
  if (of === 0) return null;
  const share = count / of;
  const square = Z95 * Z95;
  const middle = (share + square / (2 * of)) / (1 + square / of);
  const half = (Z95 / (1 + square / of)) * Math.sqrt((share * (1 - share)) / of + square / (4 * of * of));
  return { count, of, share, low: Math.max(0, middle - half), high: Math.min(1, middle + half) };
}

/** Linear between order statistics. */
export function quantile(values: readonly number[], at: number): number | null {
  if (values.length === 0) return null;
  const sorted = [...values].sort((a, b) => a - b);
  const place = at * (sorted.length - 1);
  const low = Math.floor(place);
  const high = Math.min(sorted.length - 1, low + 1);
  return sorted[low]! + (sorted[high]! - sorted[low]!) * (place - low);
}

/** A quantile with the interval between the order statistics that hold it with 95 % (binomial, normal
 *  approximation). */
export function quantileWithInterval(values: readonly number[], at: number): Estimate | null {
  const value = quantile(values, at);
  if (value === null) return null;
  const n = values.length;
  const sorted = [...values].sort((a, b) => a - b);
  const half = Z95 * Math.sqrt(n * at * (1 - at));
  const low = sorted[Math.floor(n * at - half) - 1] ?? Number.NEGATIVE_INFINITY;
  const high = sorted[Math.ceil(n * at + half)] ?? Number.POSITIVE_INFINITY;
  return { value, low, high, of: n };
}

/** Robust standard deviation about 0: median of |z| ÷ 0.6745. Its own relative error is 1.166/√n (from the density of
 *  |z| at its median).
 */
export function robustScatter(z: readonly number[]): Estimate | null {
  const middle = quantile(z.map(Math.abs), 0.5);
  if (middle === null) return null;
  const value = middle / MEDIAN_Z;
  const share = (Z95 * 1.166) / Math.sqrt(z.length);
  return { value, low: value * (1 - share), high: value * (1 + share), of: z.length };
}

/** Root mean square about 0. Its own relative error is 1/√(2n) for a normal distribution. */
export function rootMeanSquare(z: readonly number[]): Estimate | null {
  if (z.length === 0) return null;
  const value = Math.sqrt(z.reduce((sum, one) => sum + one * one, 0) / z.length);
  const share = Z95 / Math.sqrt(2 * z.length);
  return { value, low: value * (1 - share), high: value * (1 + share), of: z.length };
}

/** 1 ÷ an estimate. */
export function inverseOf(estimate: Estimate | null): Estimate | null {
  if (estimate === null || estimate.value === 0) return null;
  const { value, low, high, of } = estimate;
  return { value: 1 / value, low: 1 / high, high: low > 0 ? 1 / low : Number.POSITIVE_INFINITY, of };
}

/** Drop what is null. */
export function present<T>(values: readonly (T | null)[]): T[] {
  return values.filter((value): value is T => value !== null);
}
