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
      const parts = after.parts!.map((one) => (one.ref === "C6" ? { ...one, riseK: 2.5 } : one));
      return part(compareFindings(before, { ...after, parts }), "C6")!.change;
    };
    // The amps grew threefold at the same volts: C6 would have drawn what it drew.
    expect(change(3.1, 0.3)).toBe("unsure");
    // With the volts √3 times as many it would have drawn three times as much, and shown that.
    expect(change(3.1 * Math.sqrt(3), 0.3 / Math.sqrt(3))).toBe("gone");
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
