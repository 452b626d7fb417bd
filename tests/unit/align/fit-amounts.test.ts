import { describe, expect, it } from "vitest";
import { fitAmounts } from "../../../src/align/fit-amounts.js";
import { makeRandom } from "../../simulate/random.js";

const size = 900;

describe("fitAmounts", () => {
  it("finds how much of each shape is in a picture, however one spot stands out", () => {
    const random = makeRandom("amounts");
    const scene = Float32Array.from({ length: size }, () => random.normal());
    const warm = Float32Array.from({ length: size }, () => random.normal());
    const picture = scene.map((s, i) => 0.9 * s - 1.7 * warm[i]! + 0.02 * random.normal());
    // A hot spot over 3 % of the pixels, a hundred times the scale.
    for (let i = 0; i < 27; i++) picture[i]! += 10;
    const [first, second] = fitAmounts([scene, warm], picture, 0.1);
    // Standard error 0.02/√873 < 0.001; the spot's saturated pull adds a little, and that contrast stays takes a fifth
    // of 0.1.
    expect(Math.abs(first! - 0.92)).toBeLessThan(0.02);
    expect(Math.abs(second! + 1.7)).toBeLessThan(0.03);
  });

  it("where another shape is nearly the baseline's, the baseline keeps its contrast and the other takes what was added", () => {
    const random = makeRandom("alike");
    const scene = Float32Array.from({ length: size }, () => random.normal());
    const warm = scene.map((s) => 0.8 * s + 0.1 * random.normal());
    // A fifth of the picture changed in a way that no shape follows, against the one and for the other.
    const picture = scene.map(
      (s, i) => s + 0.6 * warm[i]! + (i % 5 === 0 ? 3 * (warm[i]! - 0.8 * s) : 0) + 0.02 * random.normal(),
    );
    const [first, second] = fitAmounts([scene, warm], picture, 0.1);
    expect(Math.abs(first! - 1)).toBeLessThan(0.05);
    expect(Math.abs(second! - 0.6)).toBeLessThan(0.06);
  });

  it("one shape alone is the baseline as it is", () => {
    const scene = Float32Array.from({ length: size }, (_, i) => Math.sin(i));
    expect(
      fitAmounts(
        [scene],
        scene.map((s) => 3 * s),
        0.1,
      ),
    ).toEqual([1]);
  });

  it("pixels without a reading don't count", () => {
    const scene = Float32Array.from({ length: size }, (_, i) => Math.sin(i));
    const warm = Float32Array.from({ length: size }, (_, i) => Math.cos(3 * i));
    const picture = scene.map((s, i) => (i % 7 === 0 ? Number.NaN : s + 0.5 * warm[i]!));
    const [, second] = fitAmounts([scene, warm], picture, 0.1);
    expect(second).toBeCloseTo(0.5, 3);
  });
});
