// sources: a set found and one of it → the candidate that explains more in its place.
import type { CandidatePool } from "./candidate-pool.js";
import type { Candidate } from "./source-model.js";

/** Find the candidate that explains most in a source's place, among those that explain more than it does, and enough.
 *  @param candidates not in the set. @param wanted χ² that a candidate must explain beyond the rest of the set.
 *  @returns null if the source itself does best.
 */
export function betterInPlace(
  pool: CandidatePool,
  set: readonly Candidate[],
  source: Candidate,
  candidates: readonly Candidate[],
  wanted: (candidate: Candidate) => number,
): Candidate | null {
  const without = set.filter((other) => other !== source);
  const rest = pool.gainOf(without);
  let [best, most]: [Candidate | null, number] = [null, pool.gainOf(set) + 1e-9];
  for (const candidate of candidates) {
    const gain = pool.gainOf([...without, candidate]);
    if (gain > most && gain - rest >= wanted(candidate)) [best, most] = [candidate, gain];
  }
  return best;
}
