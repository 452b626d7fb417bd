import { describe, expect, it } from "vitest";
import { sampleBilinear } from "../../../src/numeric/sample-bilinear.js";

/** A plane: bilinear between its pixels is exact. */
const plane = Float32Array.from({ length: 24 }, (_, i) => 3 * (i % 6) - 5 * Math.floor(i / 6) + 1);
const at = (x: number, y: number): number => 3 * x - 5 * y + 1;

describe("sampleBilinear", () => {
  it("is exact on a plane, and holds the border's values beyond it", () => {
    expect(sampleBilinear(plane, 6, 4, 2.25, 1.5)).toBe(at(2.25, 1.5));
    expect(sampleBilinear(plane, 6, 4, 5, 3)).toBe(at(5, 3));
    expect(sampleBilinear(plane, 6, 4, -2, 1)).toBe(at(0, 1));
    expect(sampleBilinear(plane, 6, 4, 9, 3.4)).toBe(at(5, 3));
  });

  it("takes the nearest pixel alone beside one without a reading", () => {
    const holed = plane.slice();
    holed[7] = Number.NaN;
    expect(sampleBilinear(holed, 6, 4, 0.3, 1)).toBe(at(0, 1));
    expect(sampleBilinear(holed, 6, 4, 0.7, 1)).toBeNaN();
    expect(sampleBilinear(holed, 6, 4, 2.5, 2.5)).toBeCloseTo(at(2.5, 2.5), 5);
  });
});
