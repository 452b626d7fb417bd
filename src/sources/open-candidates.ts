// sources: all candidates and the set found → those that may still be added to it.
import { heatUnderMirror } from "./recast-candidate.js";
import type { Candidate } from "./source-model.js";

/** True if a set holds a candidate, or the same place taken for something else. */
export function holds(set: readonly Candidate[], candidate: Candidate): boolean {
  return set.some((held) => held === candidate || isSamePlace(held, candidate));
}

/** Candidates that may be added to a set: those it does not hold, and the parts and places whose face it takes for a
 *  mirror. What such a face shows is the room's; that something heats under it all the same, the board around it tells.
 *  @param hills those that have shown a hill and yet no heat of their own; at a place that no map names the hill may be
 *  heat that shows no face.
 */
export function openCandidates(
  all: readonly Candidate[],
  set: readonly Candidate[],
  hills: ReadonlySet<Candidate> = NO_HILLS,
): Candidate[] {
  return all
    .flatMap((candidate) => openAt(candidate, set))
    .flatMap((candidate) => beyondHills(candidate, hills));
}

const NO_HILLS: ReadonlySet<Candidate> = new Set();

function beyondHills(candidate: Candidate, hills: ReadonlySet<Candidate>): Candidate[] {
  if (!hills.has(candidate)) return [candidate];
  if (candidate.region >= 0 || candidate.body === null) return [];
  const under = heatUnderMirror(candidate);
  return hills.has(under) ? [] : [under];
}

function openAt(candidate: Candidate, set: readonly Candidate[]): Candidate[] {
  const held = set.filter((one) => one === candidate || isSamePlace(one, candidate));
  if (held.length === 0) return [candidate];
  const mirrored = held.length === 1 && held[0]!.kind === "mirror";
  return mirrored && candidate.body !== null && !candidate.normallyWarm ? [heatUnderMirror(candidate)] : [];
}

function isSamePlace(a: Candidate, b: Candidate): boolean {
  return a.region === b.region && a.at === b.at;
}
