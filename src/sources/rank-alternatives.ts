// sources: a source among those found → every candidate in its place, and what each would explain less.
import type { CandidatePool } from "./candidate-pool.js";
import type { FittedSource } from "./source-fit.js";
import type { Candidate } from "./source-model.js";

/** Put every other candidate in a source's place.
 *  @param open candidates that may be added to the rest, the source among them. @param without the set found, less it.
 *  @param scale by how much χ² overstates the evidence.
 *  @returns evidence lost against the best, best first.
 */
export function rankAlternatives(
  pool: CandidatePool,
  open: readonly Candidate[],
  without: readonly Candidate[],
  scale: number,
): FittedSource["alternatives"] {
  const tried = open.map((candidate) => ({ candidate, gain: pool.gainOf([...without, candidate]) }));
  const best = Math.max(...tried.map(({ gain }) => gain));
  return tried
    .map(({ candidate, gain }) => ({ candidate, loss: (best - gain) / scale }))
    .sort((a, b) => a.loss - b.loss);
}
