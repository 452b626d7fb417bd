import { describe, expect, it } from "vitest";
import { compareFindings } from "../../../src/compare/compare-findings.js";
import { warmthChange } from "../../../src/compare/warmth-change.js";
import type { Findings } from "../../../src/findings/findings-schema.js";
import type { PartFindings } from "../../../src/findings/parts-schema.js";
import { makeFindings } from "./make-findings.js";

const ONE = { ...makeFindings().parts![0]!, riseSigmaK: 0 };
/** Parts named P0, P1, … with these rises; null: outside the frame. */
const places = (...rises: readonly (number | null)[]): PartFindings[] =>
  rises.map((riseK, k) => ({ ...ONE, ref: `P${k}`, riseK }));
/** The first of them is listed in both. */
const change = (
  before: PartFindings[],
  after: PartFindings[],
  sought: readonly [boolean, boolean] = [true, true],
) => warmthChange(before, after, [{ before: before[0]!, after: after[0]! }], sought);

describe("warmthChange", () => {
  const before = places(8, 4, 4, 5, 6, 3, 0.1);

  it("finds nothing where all warmth differs by one factor, whatever the camera sees far from all heat", () => {
    expect(change(before, places(12, 6, 6, 7.5, 9, 4.5, 0.4)).size).toBe(0);
  });

  it("finds the place that lost warmth, in K of the earlier attempt and sigmas of 0.05", () => {
    const found = change(before, places(12, 6, 6, 7.5, 6, 4.5, 0.4));
    expect([...found.keys()]).toEqual(["top P4"]);
    // 6 K of the later attempt are 4 K of the earlier one, which had 6 K.
    expect(found.get("top P4")!.attempt).toBe(0);
    expect(found.get("top P4")!.ownK).toBeCloseTo(2, 9);
    expect(found.get("top P4")!.sigmas).toBeCloseTo(Math.log(1.5) / 0.05, 6);
  });

  it("finds with the attempts exchanged that it came", () => {
    const found = change(places(12, 6, 6, 7.5, 6, 4.5, 0.4), before);
    expect([...found.keys()]).toEqual(["top P4"]);
    expect(found.get("top P4")!.attempt).toBe(1);
    expect(found.get("top P4")!.ownK).toBeCloseTo(2, 9);
  });

  it("takes of two factors the one by which less is lost, and leaves out what is small beside the largest", () => {
    // All parts by 1, the one that is listed by 0.9: then P4 fell from 6 to 4.8 K by no more than from 5.33.
    const found = change(before, places(7.2, 4, 4, 5, 4.8, 3, 0.1));
    expect(found.get("top P4")!.ownK).toBeCloseTo(6 - 4.8 / 0.9, 9);
    // 0.04 × 8 K are 0.32 K; the logarithm of 3 ÷ 2.69 is 0.109.
    expect(change(before, places(8, 4, 4, 5, 6, 2.69, 0.1)).size).toBe(0);
    expect(change(before, places(8, 4, 4, 5, 6, 2.67, 0.1)).size).toBe(1);
    // Two sigma of 0.05 are 0.1, so that 6 K have to fall to 5.43 K.
    expect(change(before, places(8, 4, 4, 5, 5.44, 3, 0.1)).size).toBe(0);
    expect(change(before, places(8, 4, 4, 5, 5.42, 3, 0.1)).size).toBe(1);
    // P3 lost 0.9 K, which is less than half of the 2 K that P4 lost.
    const two = change(before, places(8, 4, 4, 4.1, 4, 3, 0.1));
    expect([...two.keys()]).toEqual(["top P4"]);
    expect([...change(before, places(8, 4, 4, 3.9, 4, 3, 0.1)).keys()]).toEqual(["top P3", "top P4"]);
  });

  it("counts noise of both attempts as well", () => {
    const noisy = (parts: PartFindings[]) => parts.map((part) => ({ ...part, riseSigmaK: 0.3 }));
    const later = places(8, 4, 4, 5, 5, 3, 0.1);
    expect(change(before, later).get("top P4")!.sigmas).toBeCloseTo(Math.log(1.2) / 0.05, 9);
    // 0.05 of 6 K, and 0.06 of 5 K: 0.093 with the scatter, so that 0.182 are less than two sigma.
    expect(change(noisy(before), noisy(later)).size).toBe(0);
    const clear = change(noisy(before), noisy(places(8, 4, 4, 5, 4, 3, 0.1))).get("top P4")!;
    expect(clear.sigmas).toBeCloseTo(Math.log(1.5) / Math.hypot(0.05, 0.05, 0.075), 9);
  });

  it("looks in those attempts alone in which heat is sought", () => {
    const after = places(8, 4, 4, 5, 4, 4.5, 0.1);
    expect([...change(before, after).keys()]).toEqual(["top P4", "top P5"]);
    expect([...change(before, after, [false, true]).keys()]).toEqual(["top P5"]);
    expect([...change(before, after, [true, false]).keys()]).toEqual(["top P4"]);
  });

  it("says nothing where no heat is listed in both, and of places that one attempt does not show", () => {
    const after = places(8, 4, 4, 5, 3, 3, 0.1);
    expect(warmthChange(before, after, [], [true, true]).size).toBe(0);
    expect(change(before, places(8, 4, 4, 5, null, 3, 0.1)).size).toBe(0);
    expect(change(places(8, 4, 4, 5), places(8, 4, 4, 2)).size).toBe(0);
  });
});

describe("heat that no attempt lists, and whose place lost its warmth", () => {
  const WARM = { ref: "U6", powerW: 0.6 };
  /** Cold parts at 3 K beside it, C6 at `riseK` with what the fit gives it; the others get nothing. */
  const attempt = (
    riseK: number,
    own: Partial<PartFindings>,
    others: Partial<PartFindings> = {},
  ): Findings => {
    const findings = makeFindings({ heat: [WARM] });
    const parts = findings.parts!.map((part): PartFindings => {
      if (part.powerW !== null) return { ...part, triedW: 0.6, triedSigmaW: 0.01, triedEvidence: 400 };
      const none = { riseK: 3, riseSigmaK: 0, contrastK: -0.2, triedW: 0, triedSigmaW: 0, triedEvidence: 0 };
      return part.ref === "C6" ? { ...part, ...none, riseK, ...own } : { ...part, ...none, ...others };
    });
    return { ...findings, parts };
  };
  const told = (before: Findings, after: Findings) => compareFindings(before, after).parts;
  const heats = { triedW: 0.008, triedSigmaW: 0.001, triedEvidence: 7, riseSigmaK: 0 };

  it("is gone or new where the fit gave the part watts, with less evidence than is asked without the warmth", () => {
    const [before, after] = [attempt(4.5, heats), attempt(3, {})];
    const gone = told(before, after).find(({ ref }) => ref === "C6")!;
    expect(gone).toMatchObject({ change: "gone", hotspots: [null, null], faceAlone: [true, false] });
    expect(gone.z).toBeCloseTo(-Math.log(1.5) / 0.05, 6);
    expect(gone.why).toMatch(
      /the fit gives it heat in the earlier attempt alone, and its place is warmer there/,
    );
    expect(told(after, before).find(({ ref }) => ref === "C6")!.change).toBe("new");
    expect(compareFindings(before, after).verdict).toContain("C6");
  });

  it("is not told where the fit gave it too few watts, as many later, or took its face for a mirror", () => {
    const names = (own: Partial<PartFindings>, later: Partial<PartFindings> = {}) =>
      told(attempt(4.5, own), attempt(3, later)).map(({ ref }) => ref);
    // Of 0.01 W that would have been found.
    expect(names({ ...heats, triedW: 0.0039 })).toEqual(["U6"]);
    expect(names({ ...heats, triedEvidence: 5.9 })).toEqual(["U6"]);
    expect(names(heats, { triedW: 0.0041 })).toEqual(["U6"]);
    expect(names({ ...heats, mirrored: true })).toEqual(["U6"]);
    expect(names({ ...heats, shiny: true })).toEqual(["U6"]);
    expect(names({ ...heats, triedW: 0.0039, triedEvidence: 16 })).toEqual(["U6", "C6"]);
    expect(names(heats)).toEqual(["U6", "C6"]);
  });

  it("is told of one part, the one whose place lost most of those that the fit gave watts", () => {
    const two = (riseK: number, own: Partial<PartFindings>): Findings => {
      const before = attempt(4.5, heats);
      const parts = before.parts!.map((part) => (part.ref === "R4" ? { ...part, ...own, riseK } : part));
      return { ...before, parts };
    };
    const names = (before: Findings) => told(before, attempt(3, {})).map(({ ref }) => ref);
    expect(names(two(4.3, heats))).toEqual(["U6", "C6"]);
    expect(names(two(4.7, heats))).toEqual(["U6", "R4"]);
    expect(names(two(4.7, {}))).toEqual(["U6", "C6"]);
  });

  it("is not told where listed heat went: what lies around that lost warmth for its sake", () => {
    const listed = makeFindings({ heat: [WARM, { ref: "R4", powerW: 0.2 }] }).parts!;
    const before = attempt(4.5, heats);
    const parts = before.parts!.map((part) =>
      part.ref === "R4" ? { ...listed.find(({ ref }) => ref === "R4")!, triedW: 0.2 } : part,
    );
    const { hotspots } = makeFindings({ heat: [WARM, { ref: "R4", powerW: 0.2 }] });
    const names = told({ ...before, hotspots, parts }, attempt(3, {})).map(({ ref }) => ref);
    expect(names).toEqual(["U6", "R4"]);
  });
});
