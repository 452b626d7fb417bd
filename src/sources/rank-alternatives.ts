// sources: a source among those found → every candidate in its place, and what each would explain less.
import type { CandidatePool } from "./candidate-pool.js";
import type { FittedSource } from "./source-fit.js";
import type { Candidate } from "./source-model.js";

/** Put every other candidate in a source's place.
 *  @param all candidates there are. @param without the set found, less the source.
 *  @param scale by how much χ² overstates the evidence.
 *  @returns evidence lost against the best, best first.
 */
export function rankAlternatives(
  pool: CandidatePool,
  all: readonly Candidate[],
  source: Candidate,
  without: readonly Candidate[],
  scale: number,
): FittedSource["alternatives"] {
  const tried = all
    .filter((candidate) => candidate === source || !without.includes(candidate))
    .map((candidate) => ({ candidate, gain: pool.fitSet([...without, candidate]).gain }));
  const best = Math.max(...tried.map(({ gain }) => gain));
  return tried
    .map(({ candidate, gain }) => ({ candidate, loss: (best - gain) / scale }))
    .sort((a, b) => a.loss - b.loss);
}
