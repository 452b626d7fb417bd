// Non-negative least squares against SciPy.
import { describe, expect, it } from "vitest";
import { solveNonNegative } from "../../src/numeric/nonnegative-least-squares.js";
import { largestDistance, referenceCases, withNaN } from "./numeric-reference-data.js";

interface NonNegativeCase {
  rows: number;
  columns: number;
  free: number;
  a: number[];
  b: number[];
  x: number[];
  residual: number;
  variance: (number | null)[];
}

describe("solveNonNegative against scipy.optimize.nnls", () => {
  it.each(referenceCases<NonNegativeCase[]>("nonnegative"))(
    "$rows equations, $columns variables, $free of them free",
    (item) => {
      const { rows, columns, a, b } = item;
      const gram = new Float64Array(columns * columns);
      const right = new Float64Array(columns);
      for (let i = 0; i < columns; i++) {
        for (let r = 0; r < rows; r++) {
          right[i] = right[i]! + a[r * columns + i]! * b[r]!;
          for (let j = 0; j < columns; j++) {
            gram[i * columns + j] = gram[i * columns + j]! + a[r * columns + i]! * a[r * columns + j]!;
          }
        }
      }
      const free = Uint8Array.from({ length: columns }, (_, i) => (i < item.free ? 1 : 0));
      const found = solveNonNegative(gram, right, columns, { free });
      expect(found.converged).toBe(true);
      // Normal equations square the condition (below 1e3 here): 1e6 roundings of 1e-16, times values of about 10.
      expect(largestDistance(found.x, item.x)).toBeLessThan(1e-8);
      expect(largestDistance(found.variance, withNaN(item.variance))).toBeLessThan(1e-8);
      const square = b.reduce((sum, value) => sum + value * value, 0);
      expect(square - found.explained).toBeCloseTo(item.residual ** 2, 8);
    },
  );
});
