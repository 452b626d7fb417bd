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

const UNDER_MIRROR = new WeakMap<Candidate, Candidate>();

/** The heat of a part whose face is taken for a mirror, which shows nothing of it; always the same object. */
export function heatUnderMirror(part: Candidate): Candidate {
  const made = UNDER_MIRROR.get(part) ?? { ...part, body: null };
  UNDER_MIRROR.set(part, made);
  return made;
}

/** A set with some faces taken for mirrors. What warms on a healthy board too stays in it, as heat that its face does
 *  not show. */
export function withMirrors(set: readonly Candidate[], mirrors: readonly Candidate[]): Candidate[] {
  const faces = new Set(mirrors.map(({ footprint }) => footprint));
  return [...set.map((one) => (faces.has(one.footprint) ? heatUnderMirror(one) : one)), ...mirrors];
}

/** True for a candidate that heats and should not. */
export function isFault(candidate: Candidate): boolean {
  return candidate.kind === "heat" && !candidate.normallyWarm;
}
