import { describe, expect, it } from "vitest";
import { jointParts, matchHotspots } from "../../../src/compare/match-hotspots.js";
import type { Findings, Hotspot } from "../../../src/findings/findings-schema.js";
import { makeFindings } from "./make-findings.js";

/** Hotspots on a line, mm, that no part explains: place alone matches them. */
function onLine(places: readonly number[], sigmaMm: number): Findings {
  const findings = makeFindings({ heat: places.map(() => ({ ref: "C6", powerW: 0.1 })) });
  findings.hotspots.forEach((hotspot, k) => {
    hotspot.sourceMm = [places[k]!, 4];
    hotspot.sourceSigmaMm = sigmaMm;
    hotspot.nearest = [];
  });
  return findings;
}
const pairs = (before: Findings, after: Findings) =>
  matchHotspots(before, after).map((match) => [match.before?.rank ?? null, match.after?.rank ?? null]);

describe("matchHotspots", () => {
  it("takes the pairing that is best as a whole, not the nearest pair first", () => {
    // The nearest pair of all is 2.2 and 2, which would leave 0 and 4.1 four millimetres apart.
    expect(pairs(onLine([0, 2.2], 1), onLine([2, 4.1], 1))).toEqual([
      [1, 1],
      [2, 2],
    ]);
  });

  it("leaves apart what lies farther off than the uncertainty of both places allows", () => {
    // 0.4 px of each view at 1/3 mm a pixel are 0.13 mm: with 0.5 mm of each place 0.73 mm, of which 2.9 is within the
    // gate.
    expect(pairs(onLine([10], 0.5), onLine([12.1], 0.5))).toEqual([[1, 1]]);
    expect(pairs(onLine([10], 0.5), onLine([14.1], 0.5))).toEqual([
      [1, null],
      [null, 1],
    ]);
  });

  it("is not made less strict by what a view's clicks are off by: both attempts may share them", () => {
    const seen = (at: number): Findings => {
      const findings = onLine([at], Math.hypot(0.5, 3));
      for (const hotspot of findings.hotspots) hotspot.viewSigmaMm = 3;
      return findings;
    };
    expect(pairs(seen(10), seen(14.1))).toEqual([
      [1, null],
      [null, 1],
    ]);
    expect(pairs(seen(10), seen(12.1))).toEqual([[1, 1]]);
  });

  it("takes heat that wanders within one part for the same", () => {
    const before = makeFindings({ heat: [{ ref: "U2", powerW: 0.2, offMm: [-1.4, 0.9] }] });
    const after = makeFindings({ heat: [{ ref: "U2", powerW: 0.2, offMm: [1.3, -1.1] }] });
    expect(pairs(before, after)).toEqual([[1, 1]]);
  });

  it("does not take heat in a neighbour for the same where both attempts are sure of their part", () => {
    const before = makeFindings({ heat: [{ ref: "C6", powerW: 0.2 }] });
    const after = makeFindings({ heat: [{ ref: "U6", powerW: 0.2 }] });
    after.hotspots[0]!.sourceMm = [12.4, 7.2];
    expect(pairs(before, after)).toEqual([
      [1, null],
      [null, 1],
    ]);
  });

  it("does not change what it is given", () => {
    const [before, after] = [onLine([0, 2.2], 1), onLine([2, 4.1], 1)];
    const copies = structuredClone([before, after]);
    matchHotspots(before, after);
    expect([before, after]).toEqual(copies);
  });
});

describe("jointParts", () => {
  const spot = (nearest: [string, number][]): Hotspot => ({
    ...makeFindings({ heat: [{ ref: "C6", powerW: 0.1 }] }).hotspots[0]!,
    nearest: nearest.map(([ref, probability]) => ({ ref, side: "top", distanceMm: 0, probability })),
  });
  const join = (before: Hotspot | null, after: Hotspot | null) =>
    jointParts({ before, after, distance: 0.1, sigma: 0.3, shared: 0.5, overlap: 0.5 });

  it("multiplies what both attempts say", () => {
    const [first, second] = join(
      spot([
        ["C6", 0.5],
        ["C7", 0.4],
      ]),
      spot([
        ["C7", 0.6],
        ["C6", 0.3],
      ]),
    );
    // 0.24 for C7, 0.15 for C6, 0.01 for none of the parts.
    expect([first!.ref, second!.ref]).toEqual(["C7", "C6"]);
    expect(first!.probability).toBeCloseTo(0.24 / 0.4, 9);
    expect(second!.probability).toBeCloseTo(0.15 / 0.4, 9);
  });

  it("keeps what one attempt says of heat that it alone shows", () => {
    expect(join(spot([["C6", 0.8]]), null)).toEqual([
      { ref: "C6", side: "top", probability: expect.closeTo(0.8, 9) },
    ]);
  });
});
