import { describe, expect, it } from "vitest";
import { centralDifference, gradientSize } from "../../../src/sources/central-difference.js";

/** 4 × 3. */
// biome-ignore format: a picture reads best as one
const VALUES = Float32Array.of(
  1, 3, 9, 2,
  5, 4, 0, 8,
  7, 6, 20, 11,
);

describe("centralDifference", () => {
  it("is half the step over each pixel, and 0 where a neighbour is missing: rows do not run into each other", () => {
    // biome-ignore format: a picture reads best as one
    expect([...centralDifference(VALUES, 4, 3, "x")]).toEqual([
      0, 4, -0.5, 0,
      0, -2.5, 2, 0,
      0, 6.5, 2.5, 0,
    ]);
    // biome-ignore format: a picture reads best as one
    expect([...centralDifference(VALUES, 4, 3, "y")]).toEqual([
      0, 0, 0, 0,
      3, 1.5, 5.5, 4.5,
      0, 0, 0, 0,
    ]);
  });

  it("of a picture of one row or column there is none across it", () => {
    expect([...centralDifference(VALUES.slice(0, 4), 4, 1, "y")]).toEqual([0, 0, 0, 0]);
    expect([...centralDifference(VALUES.slice(0, 3), 1, 3, "x")]).toEqual([0, 0, 0]);
  });
});

describe("gradientSize", () => {
  it("takes both together inside each picture, and nothing over its border", () => {
    const behind = Float32Array.of(50, ...VALUES);
    const pictures = [
      { width: 1, height: 1, offset: 0 },
      { width: 4, height: 3, offset: 1 },
    ];
    const inside = [Math.hypot(2.5, 1.5), Math.hypot(2, 5.5)].map(Math.fround);
    expect([...gradientSize(behind, pictures)]).toEqual([0, 0, 0, 0, 0, 0, ...inside, 0, 0, 0, 0, 0]);
  });
});
