// report: artefacts → those that are no heat for the same reason put together: told nine times over, nobody reads it.
import type { Artefact, Findings } from "../findings/findings-schema.js";
import { viewWords } from "./describe-findings.js";
import { ARTEFACT_WORDS, artefactLetter } from "./picture-marks.js";

/** Places of one kind, seen in one view, that are no heat for one reason. */
export interface AlikeArtefacts {
  /** What they are, and where there are two views which one shows them. */
  readonly what: string;
  readonly reason: string;
  /** In the order of the findings, each with its letter on the pictures. */
  readonly places: { readonly letter: string; readonly artefact: Artefact }[];
}

/** Put artefacts together by kind, view and reason, in the order of the first of each. */
export function alikeArtefacts(findings: Findings): AlikeArtefacts[] {
  const groups = new Map<string, AlikeArtefacts>();
  findings.artefacts.forEach((artefact, i) => {
    const { kind, view, reason } = artefact;
    const where = findings.otherSide ? ` in the ${viewWords(findings, view)}` : "";
    const what = `${ARTEFACT_WORDS[kind]}${where}`;
    const key = `${what}: ${reason}`;
    const group = groups.get(key) ?? { what, reason, places: [] };
    group.places.push({ letter: artefactLetter(i), artefact });
    groups.set(key, group);
  });
  return [...groups.values()];
}
