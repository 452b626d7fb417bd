// numeric: many numbers, some of them NaN → the few near a rank, between two that a sample tells.
import { select } from "./select-rank.js";

/** Numbers that are enough to find the one of a rank in, at the front of the working memory, with its neighbours in
 *  rank. */
export interface NearRank {
  readonly count: number;
  /** The rank among these. */
  readonly rank: number;
}

/** Numbers of which those near a rank can be asked for, again and again. */
export interface ManyNumbers {
  /** Those that are not NaN. */
  readonly count: number;
  /** Put the numbers near a rank into the working memory; where the sample misleads, all of them. */
  near(rank: number): NearRank;
  /** From now on their distances from one number. */
  takeDistances(from: number): void;
}

/** From so many numbers on, looking at a sample first saves more than it costs. */
export const MANY = 16_384;
const SAMPLE = 4096;
/** A rank in the sample is off by at most √SAMPLE ÷ 2 (one σ): this many σ, and a few ranks for the ends. */
const SIGMAS = 3.5;
const LEAST_RANKS = 4;

const sample = new Float64Array(SAMPLE);

/** Hold many numbers.
 *  @param values not modified. @param work as long as they are, and not they; it holds what `near` gives.
 */
export function manyNumbers(values: ArrayLike<number>, work: Float64Array): ManyNumbers {
  let centre: number | null = null;
  const load = (): number => {
    const count = copyNumbers(values, work);
    if (centre !== null) for (let i = 0; i < count; i++) work[i] = Math.abs(work[i]! - centre);
    return count;
  };
  return {
    count: copyNumbers(values, work),
    near(rank) {
      const count = load();
      const [low, high] = bracket(work, count, rank / count);
      let below = 0;
      let kept = 0;
      for (let i = 0; i < count; i++) {
        const value = work[i]!;
        if (value < low) below++;
        else if (value <= high) work[kept++] = value;
      }
      return holdsRank(below, kept, count, rank)
        ? { count: kept, rank: rank - below }
        : { count: load(), rank };
    },
    takeDistances(from) {
      centre = from;
    },
  };
}

/** Two numbers between which those of a share of all most likely lie. */
function bracket(values: Float64Array, length: number, share: number): [number, number] {
  // Odd, so that it does not fall into step with the rows of a picture.
  const stride = Math.max(1, Math.floor(length / SAMPLE)) | 1;
  let count = 0;
  for (let i = 0; i < length && count < SAMPLE; i += stride) {
    const value = values[i]!;
    if (!Number.isNaN(value)) sample[count++] = value;
  }
  if (count === 0) return [Number.NaN, Number.NaN];
  const reach = SIGMAS * Math.sqrt(count * share * (1 - share)) + LEAST_RANKS;
  const low = Math.floor(share * count - reach);
  const high = Math.ceil(share * count + reach);
  return [
    low < 0 ? Number.NEGATIVE_INFINITY : select(sample, count, low),
    high >= count ? Number.POSITIVE_INFINITY : select(sample, count, high),
  ];
}

/** True if a rank and its neighbours are among those kept. */
function holdsRank(below: number, kept: number, count: number, rank: number): boolean {
  return (below === 0 || below < rank) && (below + kept === count || rank + 1 < below + kept);
}

/** All of the numbers. */
export function wholeOf(count: number, rank: number): NearRank {
  return { count, rank };
}

/** Copy what is not NaN; gives how many they are. */
export function copyNumbers(values: ArrayLike<number>, work: Float64Array): number {
  let count = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (!Number.isNaN(value)) work[count++] = value;
  }
  return count;
}
