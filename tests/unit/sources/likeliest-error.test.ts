import { describe, expect, it } from "vitest";
import { likeliestError } from "../../../src/sources/likeliest-error.js";
import { makeRandom } from "../../simulate/random.js";

const [width, height] = [90, 72];
const NOISE_K = 0.05;
const picture = { width, height, offset: 0 };
const SHARES = [0.0075, 0.015, 0.03, 0.06];

/** A rise of 6 K on the left half and none on the right. */
const riseK = (i: number) => (i % width < width / 2 ? 6 : 0);
const varianceOf = (share: number) =>
  Float32Array.from({ length: width * height }, (_, i) => NOISE_K ** 2 + (share * riseK(i)) ** 2);

/** Noise, and an error of the given share of the rise. */
function residual(share: number): Float32Array {
  const random = makeRandom(`error ${share}`);
  return Float32Array.from(
    { length: width * height },
    (_, i) => NOISE_K * random.normal() + share * riseK(i) * random.normal(),
  );
}

describe("likeliestError", () => {
  it.each(SHARES)("finds the share of %f that made the errors", (share) => {
    expect(likeliestError(SHARES, varianceOf, residual(share), [picture])).toBe(share);
  });

  it("an error twice the largest share: the largest", () => {
    expect(likeliestError(SHARES, varianceOf, residual(0.12), [picture])).toBe(0.06);
  });

  it("pixels left out count for nothing", () => {
    const left = residual(0.03);
    for (let i = 0; i < left.length; i += 3) left[i] = Number.NaN;
    expect(likeliestError(SHARES, varianceOf, left, [picture])).toBe(0.03);
  });
});
