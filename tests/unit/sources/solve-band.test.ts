import { describe, expect, it } from "vitest";
import { factorBand, solveBand } from "../../../src/sources/solve-band.js";
import { makeRandom } from "../../simulate/random.js";
import { bandMatrix } from "./band-matrix.js";

/** The textbook's three loops. */
function plainFactor(a: Float64Array, n: number, band: number): Float64Array {
  const out = a.slice();
  const at = (i: number, j: number): number => i * (band + 1) + band - (i - j);
  for (let i = 0; i < n; i++) {
    for (let j = Math.max(0, i - band); j <= i; j++) {
      let sum = out[at(i, j)]!;
      for (let k = Math.max(0, i - band, j - band); k < j; k++) sum -= out[at(i, k)]! * out[at(j, k)]!;
      out[at(i, j)] = i === j ? Math.sqrt(sum) : sum / out[at(j, j)]!;
    }
  }
  return out;
}

describe.each([
  [37, 7],
  [10, 3],
  [23, 2],
  [48, 12],
])("%i rows, band %i", (n, band) => {
  const { whole, rows } = bandMatrix(n, band);
  const factor = rows.slice();
  factorBand(factor, n, band);

  it("the factor is that of the plain loops, to the last bit", () => {
    expect([...factor].every((value, k) => Object.is(value, plainFactor(rows, n, band)[k]))).toBe(true);
  });

  it.each([0, 9])("the solution solves it, with %i zeros before the first heat", (zeros) => {
    const random = makeRandom("right side");
    const b = Float64Array.from({ length: n }, (_, i) => (i < zeros ? 0 : random.normal()));
    const before = b.slice();
    const x = solveBand(factor, n, band, b);
    expect(b).toEqual(before);
    whole.forEach((row, i) => {
      const sum = row.reduce((total, value, j) => total + value * x[j]!, 0);
      // Condition number below 2: rounding of a few dozen sums of order one.
      expect(Math.abs(sum - b[i]!)).toBeLessThan(1e-13);
    });
  });
});
