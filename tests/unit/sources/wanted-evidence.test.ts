import { describe, expect, it } from "vitest";
import { FIT_DEFAULTS } from "../../../src/sources/fit-defaults.js";
import { mirrorOf } from "../../../src/sources/recast-candidate.js";
import type { Candidate } from "../../../src/sources/source-model.js";
import { wantedEvidence } from "../../../src/sources/wanted-evidence.js";
import { BOARD } from "./relaxed-plate.js";
import { modelOf, partOf } from "./small-model.js";

// Copies of C1 to the right of it, so many millimetres away.
const C1 = BOARD.regions.find(({ ref }) => ref === "C1")!;
const widthMm = Math.max(...C1.polygon.map(([x]) => x)) - Math.min(...C1.polygon.map(([x]) => x));
const copyAt = (ref: string, gapMm: number) => ({
  ...C1,
  ref,
  polygon: C1.polygon.map(([x, y]): [number, number] => [x + widthMm + gapMm, y]),
});

const LEAST = 30;
const model = modelOf({ ...BOARD, regions: [...BOARD.regions, copyAt("C8", 1.5), copyAt("C9", 2.5)] });
const [c1, c8, c9, u2] = ["C1", "C8", "C9", "U2"].map((ref) => partOf(model, ref)) as [
  Candidate,
  Candidate,
  Candidate,
  Candidate,
];
const wanted = (candidate: Candidate, set: readonly Candidate[]) =>
  wantedEvidence(candidate, set, LEAST, FIT_DEFAULTS);

describe("wantedEvidence", () => {
  it("is the least where nothing was found, and where what was found is far away", () => {
    expect(wanted(c8, [])).toBe(LEAST);
    expect(wanted(u2, [c1])).toBe(LEAST);
    expect(wanted(c9, [c1])).toBe(LEAST);
  });

  it("is less beside a part that was found, by the logarithm of how few lie there", () => {
    expect(wanted(c8, [c1])).toBeCloseTo(FIT_DEFAULTS.neighbourEvidence * LEAST, 9);
    expect(wanted(c8, [u2, c1])).toBe(wanted(c8, [c1]));
    // Two of fifty, of the 25 that are usual: 2 ln 25 ≈ 6.4 and so a quarter.
    expect(Math.abs(25 - 2 * Math.log(25) - 25 * FIT_DEFAULTS.neighbourEvidence)).toBeLessThan(1);
  });

  it("what was found after it does not make it easier: of two beside each other the first needs all", () => {
    expect(wanted(c1, [c1, c8])).toBe(LEAST);
    expect(wanted(c8, [c1, c8])).toBeLessThan(LEAST);
  });

  it("neither a mirror nor a part that is warm anyway makes it easier beside them", () => {
    expect(wanted(c8, [mirrorOf(c1)])).toBe(LEAST);
    expect(wanted(c8, [{ ...c1, normallyWarm: true }])).toBe(LEAST);
  });

  it("of a part that does not show itself more is wanted, beside others too", () => {
    const hidden = { ...c8, body: null };
    expect(wanted(hidden, [c1])).toBe(FIT_DEFAULTS.hiddenEvidence * LEAST);
  });
});
