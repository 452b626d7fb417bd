import { describe, expect, it } from "vitest";
import { factorComplexBand, solveComplexBand } from "../../../src/sources/solve-complex-band.js";
import { makeRandom } from "../../simulate/random.js";
import { bandMatrix } from "./band-matrix.js";

describe.each([
  [37, 7, 0],
  [12, 2, 0],
  [48, 12, 9],
])("%i rows, band %i, %i zeros before the first heat", (n, band, zeros) => {
  it("the solution solves it, real and imaginary", () => {
    const { whole, rows } = bandMatrix(n, band);
    const random = makeRandom("complex");
    const diagonal = Float64Array.from({ length: n }, () => random.uniform(0.2, 3));
    const factor = { real: rows.slice(), imaginary: new Float64Array(rows.length) };
    diagonal.forEach((value, i) => {
      factor.imaginary[i * (band + 1) + band] = value;
    });
    factorComplexBand(factor, n, band);
    const b = Float64Array.from({ length: n }, (_, i) => (i < zeros ? 0 : random.normal()));
    const before = b.slice();
    const { real, imaginary } = solveComplexBand(factor, n, band, b);
    expect(b).toEqual(before);
    whole.forEach((row, i) => {
      const re = row.reduce((sum, a, k) => sum + a * real[k]!, 0) - diagonal[i]! * imaginary[i]!;
      const im = row.reduce((sum, a, k) => sum + a * imaginary[k]!, 0) + diagonal[i]! * real[i]!;
      expect(re).toBeCloseTo(b[i]!, 11);
      expect(im).toBeCloseTo(0, 11);
    });
    expect(Math.max(...imaginary.map(Math.abs))).toBeGreaterThan(1e-3);
  });
});
