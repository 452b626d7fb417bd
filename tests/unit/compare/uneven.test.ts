import { describe, expect, it } from "vitest";
import { risenStep, unevenK } from "../../../src/compare/uneven.js";
import { makeFindings } from "./make-findings.js";

const part = (riseK: number, contrastK: number) => ({
  ...makeFindings().parts!.find(({ ref }) => ref === "R4")!,
  riseK,
  contrastK,
  contrastSigmaK: 0.1,
  contrastGain: 0.2,
});

describe("risenStep", () => {
  it("is 0 where the step grew by as much as the rise around it, and counts what it grew more", () => {
    expect(risenStep(part(4, 1), part(2, 0.5))).toBeCloseTo(0, 9);
    // 2 K expected of the place, noise 0.1 and twice 0.1, unevenness 0.015 × 4 ÷ 0.2 = 0.3.
    expect(risenStep(part(4, 3), part(2, 1))).toBeCloseTo(1 / Math.hypot(0.1, 0.2, 0.3), 9);
    expect(unevenK(part(4, 3))).toBeCloseTo(0.5, 9);
  });

  it("tells nothing by an attempt that does not show the part, or no warmth there", () => {
    expect(risenStep(part(4, 3), { ...part(2, 1), seen: false })).toBeNull();
    expect(risenStep(part(4, 3), part(-0.1, 0))).toBeNull();
  });
});
