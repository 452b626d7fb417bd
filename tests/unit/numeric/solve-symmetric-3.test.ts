import { describe, expect, it } from "vitest";
import { solveSymmetric3 } from "../../../src/numeric/solve-symmetric-3.js";

describe("solveSymmetric3", () => {
  it("solves a system that can be checked by hand", () => {
    // [[4, 2, 0], [2, 5, 1], [0, 1, 3]] · (1, −2, 3) = (0, −5, 7)
    const x = solveSymmetric3(Float64Array.from([4, 2, 0, 2, 5, 1, 0, 1, 3]), Float64Array.from([0, -5, 7]));
    expect(x[0]).toBeCloseTo(1, 13);
    expect(x[1]).toBeCloseTo(-2, 13);
    expect(x[2]).toBeCloseTo(3, 13);
  });

  it.each([
    ["zeros", [0, 0, 0, 0, 0, 0, 0, 0, 0]],
    ["a row twice", [1, 1, 0, 1, 1, 0, 0, 0, 1]],
    ["negative", [-1, 0, 0, 0, 1, 0, 0, 0, 1]],
    ["not a number", [Number.NaN, 0, 0, 0, 1, 0, 0, 0, 1]],
  ])("a matrix that is not positive definite (%s) gives NaN throughout", (_, matrix) => {
    expect(solveSymmetric3(Float64Array.from(matrix), Float64Array.from([1, 2, 3]))).toEqual([
      Number.NaN,
      Number.NaN,
      Number.NaN,
    ]);
  });
});
