// rise: how many chance places are expected above a level, and how many are allowed → the least level that allows no
// more.

/** Below this many sigma the expected numbers no longer count places. */
const LOWEST_SIGMA = 2.5;
/** No noise that there is reaches as far. */
const HIGHEST_SIGMA = 40;
/** Halvings: what is left of the interval is nothing in double precision. */
const HALVINGS = 60;

/** Find the least level, in sigma, above which no more places are expected than allowed.
 *  @param expected number of places above a level; falls as the level rises.
 *  @returns at least 2.5.
 */
export function levelAllowing(expected: (level: number) => number, allowed: number): number {
  let low = LOWEST_SIGMA;
  let high = HIGHEST_SIGMA;
  if (expected(low) <= allowed) return low;
  for (let step = 0; step < HALVINGS; step++) {
    const middle = 0.5 * (low + high);
    if (expected(middle) > allowed) low = middle;
    else high = middle;
  }
  return high;
}
