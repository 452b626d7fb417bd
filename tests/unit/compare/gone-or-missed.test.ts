import { describe, expect, it } from "vitest";
import { compareFindings } from "../../../src/compare/compare-findings.js";
import { makeFindings } from "./make-findings.js";

const C6 = { ref: "C6", powerW: 0.24 };
const part = (comparison: ReturnType<typeof compareFindings>, ref: string) =>
  comparison.parts.find((one) => one.ref === ref);

describe("heat that the later attempt does not show", () => {
  it("takes more power at the same volts for another part's, and asks no more of what went", () => {
    // The later attempt could just have missed what C6 showed: 2.4 K, 0.24 W.
    const before = makeFindings({ heat: [C6], volts: 3.1, amps: 0.1 });
    const change = (volts: number, amps: number) => {
      const after = makeFindings({
        heat: [{ ref: "U6", powerW: 0.9 }],
        volts,
        amps,
        limitK: 2.2,
        limitW: 0.22,
      });
      const parts = after.parts!.map((one) =>
        one.ref === "C6" ? { ...one, riseK: 2.5, contrastSigmaK: 1.5 } : one,
      );
      return part(compareFindings(before, { ...after, parts }), "C6")!.change;
    };
    // The amps grew threefold at the same volts: C6 would have drawn what it drew.
    expect(change(3.1, 0.3)).toBe("unsure");
    // With the volts √3 times as many it would have drawn three times as much, and shown that.
    expect(change(3.1 * Math.sqrt(3), 0.3 / Math.sqrt(3))).toBe("gone");
  });

  it("holds a face against what the same heat would make on it, though less would not have been found", () => {
    // 0.6 K where 2 K would have been found: the place is known from the other attempt.
    const before = makeFindings({ heat: [{ ...C6, powerW: 0.06 }], limitK: 2, limitW: 0.1 });
    const later = (own: Readonly<Record<string, unknown>>) => {
      const after = makeFindings({ limitK: 2, limitW: 0.1 });
      const parts = after.parts!.map((one) => (one.ref === "C6" ? { ...one, riseK: 0.7, ...own } : one));
      return part(compareFindings(before, { ...after, parts }), "C6")!;
    };
    expect(later({ contrastK: 0.02 }).change).toBe("gone");
    // 0.59 K are lacking; scatter 0.2 · 0.6 K, noise of both 0.03 K, copper 0.015 · 0.77 K ÷ 0.4.
    const sigma = Math.hypot(0.12, 0.03, 0.03, (0.025 * (0.77 - 0.7)) / 0.4, (0.015 * 0.77) / 0.4);
    expect(later({ contrastK: 0.01 }).z).toBeCloseTo(-0.59 / sigma, 2);
    // Colder than cold is cold: a slope of other heat makes that.
    expect(later({ contrastK: -0.9 }).z).toBeCloseTo(-0.6 / sigma, 2);
    expect(later({ contrastK: 0.01, contrastSigmaK: 0.4 }).change).toBe("unsure");
    expect(later({ contrastK: 0.01, shiny: true }).change).toBe("unsure");
    // A filter of half the gain: the step of an even face would be 0.6 K there, that of a hill twice as much; between
    // them √2 times as much, anywhere by a factor of two.
    const smaller = later({ contrastK: 0.01, contrastSigmaK: 0.1, contrastGain: 0.2 });
    const expected = 0.6 * Math.SQRT2;
    const spread = expected * Math.hypot(0.2, Math.LN2 / Math.sqrt(12));
    const copper = [0.7 / 0.2, (Math.SQRT2 * 0.77) / 0.4] as const;
    const uneven = Math.hypot(0.025 * (copper[0] - copper[1]), 0.015 * copper[0]);
    expect(smaller.z).toBeCloseTo(-(expected - 0.01) / Math.hypot(spread, 0.03 * Math.SQRT2, 0.1, uneven), 2);
  });

  it("is gone by the face alone where that is known well enough, and nothing else is", () => {
    const before = makeFindings({ heat: [C6] });
    const known = (contrastSigmaK: number) => {
      const findings = makeFindings({ limitK: 2.2, limitW: 0.2 });
      findings.parts!.forEach((one) => {
        Object.assign(one, { riseK: null, contrastSigmaK });
      });
      return findings;
    };
    // 2.4 K are lacking, of which one attempt to the next differs by a fifth.
    expect(part(compareFindings(before, known(0.5)), "C6")!.change).toBe("gone");
    expect(part(compareFindings(before, known(1.5)), "C6")!.change).toBe("unsure");
  });

  it("calls nothing gone whose face still stands out from the board around it", () => {
    const before = makeFindings({ heat: [C6] });
    const left = (contrastK: number) => {
      const after = makeFindings({ heat: [{ ref: "U6", powerW: 0.2 }] });
      // Warm all round by U6: uneven copper makes 0.025 · 8 K ÷ 0.4 = 0.5 K of that.
      const parts = after.parts!.map((one) => (one.ref === "C6" ? { ...one, contrastK, riseK: 8 } : one));
      return part(compareFindings(before, { ...after, parts }), "C6")!;
    };
    expect(left(0.2).change).toBe("gone");
    expect(left(0.9).change).toBe("gone");
    expect(left(1.2).change).toBe("gone");
    expect(left(1.4).change).toBe("unsure");
    expect(left(1.4).why).toBe(
      "No heat was found in the later attempt, but the face is warmer than the board around it there: it may heat more weakly.",
    );
  });
});
