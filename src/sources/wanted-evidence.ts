// sources: a candidate, and what was found before it → the evidence that it must bring.
import { polygonGap } from "../board/polygon-distance.js";
import { isFault } from "./recast-candidate.js";
import type { Candidate } from "./source-model.js";

/** What is wanted of candidates, × the least evidence. */
export interface WantedShares {
  /** Of one that does not show itself. */
  readonly hiddenEvidence: number;
  /** Of a named part in view that lies within `neighbourMm` of one found before it. */
  readonly neighbourEvidence: number;
  readonly neighbourMm: number;
}

/** Tell how much evidence a candidate must bring: the least is for one of all parts anywhere on the board, less is
 *  enough for one of the few beside a part that was found.
 *  @param set what was found, in its order; what comes after the candidate, if that is in it, does not count.
 *  @param minEvidence of any part that shows itself, χ² ÷ the residual scale.
 */
export function wantedEvidence(
  candidate: Candidate,
  set: readonly Candidate[],
  minEvidence: number,
  { hiddenEvidence, neighbourEvidence, neighbourMm }: WantedShares,
): number {
  if (candidate.body === null) return hiddenEvidence * minEvidence;
  if (candidate.region < 0) return minEvidence;
  const own = set.findIndex(({ footprint }) => footprint === candidate.footprint);
  const before = own < 0 ? set : set.slice(0, own);
  const isBeside = before.some(
    (one) => isFault(one) && one.region >= 0 && polygonGap(one.polygon, candidate.polygon) <= neighbourMm,
  );
  return isBeside ? neighbourEvidence * minEvidence : minEvidence;
}
