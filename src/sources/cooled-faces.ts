// sources: all candidates, the set found and what it leaves → the faces that got cooler, which mirror the room.
import type { SetFit } from "./candidate-pool.js";
import { type CooledBar, hasCooled } from "./has-cooled.js";
import { holds } from "./open-candidates.js";
import type { Candidate } from "./source-model.js";

/** What a set leaves, and how warm it makes each body. */
export interface SetLeft {
  /** K per pixel, and its variance, K². */
  readonly residual: Float32Array;
  readonly variance: Float32Array;
  readonly answer: Pick<SetFit, "powersW" | "bodyShares">;
}

/** Find the faces that got cooler and are not taken for mirrors yet. A part that warms on a healthy board too is in the set from
 *  the start: its face may mirror the room like any other, as long as the fit finds no warmth on it.
 */
export function cooledFaces(
  all: readonly Candidate[],
  set: readonly Candidate[],
  { residual, variance, answer: { powersW, bodyShares } }: SetLeft,
  bar: CooledBar,
): Candidate[] {
  const isOpen = (candidate: Candidate) => {
    const c = set.indexOf(candidate);
    if (!candidate.normallyWarm || c < 0) return !holds(set, candidate);
    return !(powersW[c]! * bodyShares[c]! > 0);
  };
  return all.filter((candidate) => isOpen(candidate) && hasCooled(candidate, residual, variance, bar));
}
