import { describe, expect, it } from "vitest";
import { hasCooled } from "../../../src/sources/has-cooled.js";
import type { Candidate } from "../../../src/sources/source-model.js";

const BAR = { cooledSigma: 4, cooledPixels: 3, cooledShare: 0.25 };
const face = (pixels: readonly number[]): Candidate =>
  ({
    body: { at: Int32Array.from(pixels), values: new Float32Array(pixels.length).fill(0.9) },
  }) as Candidate;
const variance = new Float32Array(24).fill(0.01);
const left = (cold: readonly number[]) =>
  Float32Array.from({ length: 24 }, (_, i) => (cold.includes(i) ? -0.5 : 0.1));

describe("hasCooled", () => {
  const part = face([2, 3, 4, 8, 9, 10, 14, 15]);

  it("needs as many cold pixels of its own as the bar says", () => {
    expect(hasCooled(part, left([2, 3, 4]), variance, BAR)).toBe(true);
    expect(hasCooled(part, left([2, 3]), variance, BAR)).toBe(false);
    expect(hasCooled(part, left([0, 1, 5, 6, 7]), variance, BAR)).toBe(false);
  });

  it("and that share of a large face", () => {
    const large = face([...Array(20).keys()]);
    expect(hasCooled(large, left([2, 3, 4, 8]), variance, BAR)).toBe(false);
    expect(hasCooled(large, left([2, 3, 4, 8, 9]), variance, BAR)).toBe(true);
  });

  it("pixels that take no part don't count, nor does a face that is not seen", () => {
    const holed = Float32Array.from(variance);
    for (const i of [2, 3]) holed[i] = Number.NaN;
    expect(hasCooled(part, left([2, 3, 4]), holed, BAR)).toBe(false);
    expect(hasCooled({ ...part, body: null }, left([2, 3, 4]), variance, BAR)).toBe(false);
  });
});
