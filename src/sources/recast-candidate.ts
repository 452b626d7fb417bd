// sources: a candidate → the same place taken for something else.
import type { Candidate, CandidateKind } from "./source-model.js";

const RECAST = new WeakMap<Candidate, Map<CandidateKind, Candidate>>();

/** The same place, taken for something else; always the same object, so that its columns are made once. */
export function recast(candidate: Candidate, kind: CandidateKind): Candidate {
  const known = RECAST.get(candidate) ?? new Map<CandidateKind, Candidate>();
  RECAST.set(candidate, known);
  const made = known.get(kind) ?? { ...candidate, kind };
  known.set(kind, made);
  return made;
}

/** The same part, taken for a mirror. */
export function mirrorOf(candidate: Candidate): Candidate {
  return recast(candidate, "mirror");
}

/** True for a candidate that heats and should not. */
export function isFault(candidate: Candidate): boolean {
  return candidate.kind === "heat" && !candidate.normallyWarm;
}
