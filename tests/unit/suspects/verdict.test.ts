import { describe, expect, it } from "vitest";
import {
  type RankedSuspect,
  sayNextStep,
  sayVerdict,
  type VerdictInput,
} from "../../../src/suspects/verdict.js";

const suspect = (ref: string, probability: number, change: Partial<RankedSuspect> = {}): RankedSuspect => ({
  ref,
  side: "top",
  probability,
  powerW: 0.2,
  normallyWarm: false,
  ...change,
});

const ONE: VerdictInput = {
  suspects: [suspect("U7", 0.91), suspect("C12", 0.05)],
  hotspots: 1,
  faults: 1,
  boardKnown: true,
  viewSide: "top",
  aligned: true,
  smallestRiseK: 0.263,
  firstPx: [95.83, 67.6],
  reflections: 0,
};
const NOTHING = { suspects: [], hotspots: 0, faults: 0, firstPx: null };

/** Every situation with what its sentence must and must not hold. */
const CASES: readonly (readonly [string, Partial<VerdictInput>, RegExp, RegExp | null])[] = [
  ["one sure part", {}, /^U7 is the source of the heat \(91 %\)\.$/, /Before lifting U7/],
  [
    "two parts that can't be told apart",
    { suspects: [suspect("U7", 0.48), suspect("C12", 0.41)] },
    /U7 \(48 %\) or C12 \(41 %\)/,
    /U7 and C12 can be told apart/,
  ],
  [
    "two parts on two sides",
    { suspects: [suspect("U7", 0.48), suspect("U30", 0.41, { side: "bottom" })] },
    /U7 \(48 %\) or U30 \(41 %\)/,
    /Capture the bottom side/,
  ],
  [
    "the same, seen from below",
    { viewSide: "bottom", suspects: [suspect("U7", 0.48), suspect("U30", 0.41, { side: "bottom" })] },
    /U7/,
    /Capture the top side/,
  ],
  [
    "two faults",
    { hotspots: 2, faults: 2, suspects: [suspect("U7", 0.9), suspect("Q2", 0.8)] },
    /U7 \(90 %\) and Q2 \(80 %\) both heat/,
    null,
  ],
  [
    "one part, half sure, no other",
    { suspects: [suspect("U7", 0.5)] },
    /U7 is the source of the heat \(50 %\)|U7.*50 %/,
    /other side/,
  ],
  ["no part explains it", { suspects: [suspect("U7", 0.1)] }, /none of the named parts/, null],
  ["no part at all", { suspects: [] }, /none of the named parts/, /other side/],
  [
    "only a normally warm part",
    { faults: 0, suspects: [suspect("U1", 0, { normallyWarm: true })] },
    /normally warm/,
    /no fault/,
  ],
  ["nothing hot", NOTHING, /more than 0\.26 K/, /other side|current/],
  ["nothing hot, with mirrors", { ...NOTHING, reflections: 2 }, /more than 0\.26 K/, /matte tape/],
  [
    "no board",
    { boardKnown: false, viewSide: null, suspects: [] },
    /pixel \(95\.8, 67\.6\)/,
    /board map and a view/,
  ],
  [
    "no board, several",
    { boardKnown: false, viewSide: null, suspects: [], hotspots: 4, faults: 4 },
    /3 more follow/,
    /board map/,
  ],
  [
    "no board, nothing hot",
    { ...NOTHING, boardKnown: false, viewSide: null },
    /more than 0\.26 K/,
    /rail's nominal voltage/,
  ],
  ["not aligned", { aligned: false }, /U7/, /without touching board or camera/],
];

describe("sayVerdict and sayNextStep", () => {
  it.each(CASES)("%s", (_, change, verdict, next) => {
    const input = { ...ONE, ...change };
    const said = [sayVerdict(input), sayNextStep(input)];
    expect(said[0]).toMatch(verdict);
    if (next !== null) expect(said[1]).toMatch(next);
    for (const sentence of said) {
      if (sentence === null) continue;
      expect(sentence).toMatch(/^[A-Z0-9].*\.$/);
      expect(sentence).not.toMatch(/NaN|undefined|null|Infinity/);
      // One sentence: no full stop before the last but in numbers.
      expect(sentence.slice(0, -1)).not.toMatch(/\.\s/);
    }
  });

  it("never advises more than the rail's nominal voltage", () => {
    for (const [, change] of CASES) {
      const step = sayNextStep({ ...ONE, ...change });
      if (step !== null && /current|voltage/.test(step))
        expect(step).toContain("below the rail's nominal voltage");
    }
  });

  it("a normally warm part is never named as the fault, whatever its place in the list", () => {
    const input = { ...ONE, suspects: [suspect("U1", 0.99, { normallyWarm: true }), suspect("U7", 0.7)] };
    expect(sayVerdict(input)).toContain("U7 is the source");
    expect(sayVerdict(input)).not.toContain("U1");
  });
});
