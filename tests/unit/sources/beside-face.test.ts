import { describe, expect, it } from "vitest";
import { besideFace } from "../../../src/sources/beside-face.js";

/** 7 × 2: the pixel's own index is what it shows. */
const show = (face: readonly number[], valueAt = (i: number): number => i) =>
  besideFace(face, 7, 2, 2, 3, valueAt);

describe("besideFace", () => {
  it("adds up the face, and what lies in the band of steps around it", () => {
    // From pixel 0: two steps are 2 and 8, three are 3 and 9.
    expect(show([0])).toEqual({ face: { sum: 0, count: 1 }, beside: { sum: 22, count: 4 } });
  });

  it("pixels without a number count neither as face nor beside it, those outside the picture are passed over", () => {
    expect(show([0, 99], (i) => (i % 2 === 0 ? i : Number.NaN))).toEqual({
      face: { sum: 0, count: 1 },
      beside: { sum: 10, count: 2 },
    });
    expect(show([-3])).toEqual({ face: { sum: 0, count: 0 }, beside: { sum: 0, count: 0 } });
  });
});
