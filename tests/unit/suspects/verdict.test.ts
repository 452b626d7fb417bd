import { describe, expect, it } from "vitest";
import { type RankedSuspect, sayVerdict, type VerdictInput } from "../../../src/suspects/verdict.js";

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
  beside: [],
  hotspots: 1,
  faults: 1,
  byPowerAlone: false,
  boardKnown: true,
  smallestRiseK: 0.263,
  firstPx: [95.83, 67.6],
  strange: null,
  unmapped: null,
};
const NOTHING = { suspects: [], hotspots: 0, faults: 0, firstPx: null, strange: null, unmapped: null };
const UNMAPPED = { at: [40.26, 13.6], side: "top", riseK: 6.749, behind: null } as const;

/** Every situation with what its sentence must hold. */
const CASES: readonly (readonly [string, Partial<VerdictInput>, RegExp])[] = [
  ["one sure part", {}, /^U7 is the source of the heat \(91 %\)\.$/],
  [
    "two parts that can't be told apart",
    { suspects: [suspect("U7", 0.48), suspect("C12", 0.41)] },
    /U7 \(48 %\) or C12 \(41 %\)/,
  ],
  [
    "two faults",
    { hotspots: 2, faults: 2, suspects: [suspect("U7", 0.9), suspect("Q2", 0.8)] },
    /U7 \(90 %\) and Q2 \(80 %\) both heat/,
  ],
  ["one part, half sure, no other", { suspects: [suspect("U7", 0.5)] }, /U7.*50 %/],
  [
    "one named since the board had power",
    { byPowerAlone: true, suspects: [suspect("U7", 0.27), suspect("C12", 0.1)] },
    /^No fault surely shows; if a part heats that should not, it is most probably U7 \(27 %\)\.$/,
  ],
  [
    "… and that is less than one in five",
    { byPowerAlone: true, suspects: [suspect("U7", 0.12)] },
    /^No fault surely shows; if a part heats that should not, it is most probably U7 \(12 %\)\.$/,
  ],
  [
    "… and that is sure enough",
    { byPowerAlone: true, suspects: [suspect("U7", 0.8)] },
    /^U7 is the source of the heat \(80 %\)\.$/,
  ],
  [
    "one sure part, and one beside it that may heat",
    { beside: [suspect("C6", 0.34), suspect("R3", 0.08)] },
    /^U7 is the source of the heat \(91 %\); C6 right beside it may heat as well \(34 %\)\.$/,
  ],
  ["… and hardly does", { beside: [suspect("C6", 0.12)] }, /^U7 is the source of the heat \(91 %\)\.$/],
  ["no part explains it", { suspects: [suspect("U7", 0.1)] }, /none of the named parts/],
  [
    "nothing that is drawn, and more where nothing is",
    { ...NOTHING, unmapped: UNMAPPED },
    /^Nothing that the map names warmed by more than 0\.26 K .* at 40\.3, 13\.6 mm, where it names nothing, the picture changed by 6\.7 K\.$/,
  ],
  ["a part that heats, and more where nothing is drawn", { unmapped: UNMAPPED }, /^U7 is the source/],
  ["no part at all", { suspects: [] }, /none of the named parts/],
  [
    "only a normally warm part",
    { faults: 0, suspects: [suspect("U1", 0, { normallyWarm: true })] },
    /normally warm/,
  ],
  ["nothing hot", NOTHING, /more than 0\.26 K/],
  ["no board", { boardKnown: false, suspects: [] }, /pixel \(95\.8, 67\.6\)/],
  ["no board, several", { boardKnown: false, suspects: [], hotspots: 4, faults: 4 }, /3 more follow/],
  [
    "nothing hot, and a change that is no heat of this board",
    { ...NOTHING, strange: { px: [40, 31], riseK: 143.2 } },
    /^Pixel \(40, 31\) changed by 143 K, but not as heat .* nothing else .* 0\.26 K/,
  ],
  ["no board, two", { boardKnown: false, suspects: [], hotspots: 2, faults: 2 }, /1 more follows/],
  ["no board, nothing hot", { ...NOTHING, boardKnown: false }, /more than 0\.26 K/],
];

describe("sayVerdict", () => {
  it.each(CASES)("%s", (_, change, verdict) => {
    const said = sayVerdict({ ...ONE, ...change });
    expect(said).toMatch(verdict);
    expect(said).toMatch(/^[A-Z0-9].*\.$/);
    expect(said).not.toMatch(/NaN|undefined|null|Infinity/);
    // One sentence: no full stop before the last but in numbers.
    expect(said.slice(0, -1)).not.toMatch(/\.\s/);
  });

  it("a normally warm part is never named as the fault, whatever its place in the list", () => {
    const input = { ...ONE, suspects: [suspect("U1", 0.99, { normallyWarm: true }), suspect("U7", 0.7)] };
    expect(sayVerdict(input)).toContain("U7 is the source");
    expect(sayVerdict(input)).not.toContain("U1");
  });
});
