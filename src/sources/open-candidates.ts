// sources: all candidates and the set found → those that may still be added to it.
import { heatUnderMirror } from "./recast-candidate.js";
import type { Candidate } from "./source-model.js";

/** True if a set holds a candidate, or the same place taken for something else. */
export function holds(set: readonly Candidate[], candidate: Candidate): boolean {
  return set.some((held) => held === candidate || isSamePlace(held, candidate));
}

/** Candidates that may be added to a set: those it does not hold, and the parts whose face it takes for a mirror. What such
 *  a face shows is the room's; that the part heats all the same, the board around it tells.
 */
export function openCandidates(all: readonly Candidate[], set: readonly Candidate[]): Candidate[] {
  return all.flatMap((candidate) => {
    const held = set.filter((one) => one === candidate || isSamePlace(one, candidate));
    if (held.length === 0) return [candidate];
    const mirrored = held.length === 1 && held[0]!.kind === "mirror" && candidate.ref !== null;
    return mirrored && candidate.body !== null && !candidate.normallyWarm ? [heatUnderMirror(candidate)] : [];
  });
}

function isSamePlace(a: Candidate, b: Candidate): boolean {
  return a.region === b.region && a.at === b.at;
}
