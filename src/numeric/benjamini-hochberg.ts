// numeric: chances of many tests → which to reject so that few of the rejected are false.

/** What `benjaminiHochberg` finds; both in the order of the input. */
export interface FalseDiscovery {
  /** 1 where the test is rejected at the given rate. */
  readonly rejected: Uint8Array;
  /** The smallest rate at which the test would be rejected; NaN for NaN. */
  readonly adjusted: Float64Array;
  readonly count: number;
}

/** Reject tests so that on average at most the share `rate` of the rejected ones are false.
 *  For many suspects tested at once, where a limit for a single false alarm in the whole family would find too few.
 *  Holds for independent tests and for positively dependent ones.
 *  Method: Benjamini & Hochberg 1995, J. R. Stat. Soc. B 57:289.
 *  @param chances p values, 0…1; NaN = not tested, not counted.
 *  @param rate above 0, at most 1.
 *  @throws RangeError outside these (a fault of the caller).
 */
export function benjaminiHochberg(chances: ArrayLike<number>, rate: number): FalseDiscovery {
  if (!(rate > 0 && rate <= 1)) throw new RangeError(`a rate lies above 0 and up to 1, not at ${rate}`);
  const order: number[] = [];
  for (let i = 0; i < chances.length; i++) {
    const chance = chances[i]!;
    if (Number.isNaN(chance)) continue;
    if (!(chance >= 0 && chance <= 1))
      throw new RangeError(`a chance lies between 0 and 1, not at ${chance}`);
    order.push(i);
  }
  order.sort((a, b) => chances[a]! - chances[b]! || a - b);
  const rejected = new Uint8Array(chances.length);
  const adjusted = new Float64Array(chances.length).fill(Number.NaN);
  let least = 1;
  let count = 0;
  // From the largest down: a test is no harder to reject than any after it.
  for (let rank = order.length; rank >= 1; rank--) {
    const i = order[rank - 1]!;
    least = Math.min(least, (chances[i]! * order.length) / rank);
    adjusted[i] = least;
    if (least <= rate) {
      rejected[i] = 1;
      count++;
    }
  }
  return { rejected, adjusted, count };
}
