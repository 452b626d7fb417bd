import { describe, expect, it } from "vitest";
import { evenStride } from "../../../src/numeric/even-stride.js";

describe("evenStride", () => {
  it.each([
    [110_592, 384, 12_000],
    [19_200, 160, 6000],
    [4_800, 80, 24_000],
    [35, 7, 5],
  ])(
    "%i pixels in rows of %i, at most %i: few enough, and every column is met alike",
    (pixels, width, most) => {
      const step = evenStride(pixels, width, most);
      const visits = new Float64Array(width);
      let count = 0;
      for (let i = 0; i < pixels; i += step, count++) visits[i % width]!++;
      expect(count).toBeLessThanOrEqual(Math.max(most, 1));
      // Rounds over the columns: no column is met more than one round more often than another.
      expect(Math.max(...visits) - Math.min(...visits)).toBeLessThanOrEqual(1);
    },
  );

  it("takes all of a small picture", () => {
    expect(evenStride(100, 10, 100)).toBe(1);
  });
});
