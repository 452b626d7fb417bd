import { describe, expect, it } from "vitest";
import { leastColoured } from "../../../src/report/least-coloured.js";

describe("leastColoured", () => {
  it("is the larger of three times the falls' root mean square, and 4 % of the peak", () => {
    expect(leastColoured(Float32Array.of(1, 2, -0.1, -0.1)).leastK).toBeCloseTo(0.3, 6);
    expect(leastColoured(Float32Array.of(1, 2, -0.3, -0.4)).leastK).toBeCloseTo(3 * Math.sqrt(0.125), 6);
    expect(leastColoured(Float32Array.of(100, 2, Number.NaN))).toEqual({ leastK: 4, peakK: 100 });
  });
});
