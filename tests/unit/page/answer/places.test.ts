import { describe, expect, it } from "vitest";
import { placesAt } from "../../../../src/page/answer/places-input.js";

const width = 40;
const height = 24;
const rise = new Float32Array(width * height);
const significance = new Float32Array(width * height);
for (const [x, y, peak] of [
  [9, 7, 3],
  [30, 15, 1],
] as const) {
  for (let i = 0; i < rise.length; i++) {
    const distance2 = ((i % width) - x) ** 2 + (Math.floor(i / width) - y) ** 2;
    rise[i] = rise[i]! + peak * Math.exp(-distance2 / 8);
  }
}
for (let i = 0; i < rise.length; i++) significance[i] = rise[i]! / 0.05;
const at = (leastSigma: number) => placesAt({ rise, significance, width, leastSigma, noiseK: 0.05 });

describe("placesAt", () => {
  it("finds both places, the stronger first, and only that one at a higher threshold", () => {
    expect(at(6).map(({ peakPx }) => peakPx)).toEqual([
      [9, 7],
      [30, 15],
    ]);
    expect(at(6)[1]!.significance).toBeCloseTo(20, 3);
    expect(at(30).map(({ peakPx }) => peakPx)).toEqual([[9, 7]]);
    expect(at(100)).toEqual([]);
  });

  it("takes falls for no heat, however significant", () => {
    const fallen = rise.map((value) => -value);
    expect(placesAt({ rise: fallen, significance, width, leastSigma: 6, noiseK: 0.05 })).toEqual([]);
  });
});
