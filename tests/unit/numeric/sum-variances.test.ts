import { describe, expect, it } from "vitest";
import { sumVariances } from "../../../src/numeric/sum-variances.js";

// The matrix of solvers.test.ts; its inverse by cofactors, the determinant is 36.
const gram = Float64Array.of(4, 12, -16, 12, 37, -43, -16, -43, 98);
const all = Uint8Array.of(1, 1, 1);

describe("variance of the sum of a group of unknowns", () => {
  it("has in it what two of a group share", () => {
    const [both, third] = sumVariances(gram, 3, all, [[0, 1], [2]]);
    // 1777/36 and 136/36 each, −488/36 together: half of what they are unsure of when taken one by one.
    expect(both).toBeCloseTo((1777 + 136 - 2 * 488) / 36, 6);
    expect(third).toBeCloseTo((4 * 37 - 12 * 12) / 36, 8);
  });

  it("an unknown that was not fitted is known to be 0, and no longer shares in the others", () => {
    const [both, third] = sumVariances(gram, 3, Uint8Array.of(1, 1, 0), [[0, 1], [2]]);
    expect(both).toBeCloseTo((37 + 4 - 2 * 12) / 4, 8);
    expect(third).toBe(0);
  });

  it("unknowns of no group are in the variance of all; one may be in several", () => {
    expect(sumVariances(gram, 3, all, [[0]])[0]).toBeCloseTo(1777 / 36, 6);
    const sums = sumVariances(gram, 3, all, [[0], [0, 1]]);
    expect(sums[1]).toBeCloseTo((1777 + 136 - 2 * 488) / 36, 6);
    expect(sumVariances(gram, 3, all, [[]])[0]).toBe(0);
    expect(sumVariances(gram, 3, Uint8Array.of(1, 0, 0), [[0]])[0]).toBeCloseTo(1 / 4, 8);
  });

  it("refuses numbers that don't fit, and unknowns that are combinations of each other", () => {
    expect(() => sumVariances(gram, 2, all, [[0]])).toThrow(RangeError);
    expect(() =>
      sumVariances(gram, 3, all, [
        [0, 1],
        [2, 3],
      ]),
    ).toThrow(RangeError);
    expect(() => sumVariances(Float64Array.of(1, 2, 2, 1), 2, Uint8Array.of(1, 1), [[0, 1]])).toThrow(
      RangeError,
    );
  });
});
