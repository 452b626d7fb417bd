// tests: a few words → what is open about a hotspot.
import type { Hypothesis, OpenQuestion } from "../../../src/suspects/open-question.js";

/** A part of 1 mm² at a place. */
export function part(
  ref: string,
  probability: number,
  at: readonly [number, number],
  change: Partial<Hypothesis> = {},
): Hypothesis {
  const usual = { side: "top", radiusMm: 0.56, nets: [], shiny: false } as const;
  return { kind: "part", ref, probability, at, ...usual, ...change };
}

/** What is left to something other than a part. */
export function rest(kind: "unnamed" | "mirror" | "doubt", probability: number): Hypothesis {
  return {
    kind,
    ref: null,
    probability,
    at: [20.4, 11.1],
    side: "top",
    radiusMm: 0,
    nets: [],
    shiny: false,
  };
}

/** A strong spot, 3.1 mm wide, of which 0.4 mm are a pixel; U7 and C12 are 1.5 mm apart on top. */
export const NEAR: OpenQuestion = {
  hypotheses: [part("U7", 0.5, [20, 11]), part("C12", 0.4, [21.2, 11.9]), rest("doubt", 0.1)],
  viewSide: "top",
  significance: 90,
  widthMm: 3.1,
  mmPerPx: 0.4,
  aligned: true,
  isBurst: false,
  isCycled: false,
  bothSides: false,
};
