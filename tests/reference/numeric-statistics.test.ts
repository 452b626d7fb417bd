// Robust statistics and the normal distribution against NumPy, SciPy, mpmath and published tables.
import { describe, expect, it } from "vitest";
import {
  median,
  medianAbsoluteDeviation,
  quantile,
  robustSigma,
  SIGMA_PER_MAD,
} from "../../src/numeric/median.js";
import { normalQuantile, normalTail, zForTail } from "../../src/numeric/normal-distribution.js";
import { largestRelativeError, referenceCases, withNaN } from "./numeric-reference-data.js";

interface StatisticsCase {
  values: (number | null)[];
  median: number;
  mad: number;
  shares: number[];
  quantiles: number[];
}

describe("median, quantile and median absolute deviation against NumPy and SciPy", () => {
  it.each(referenceCases<StatisticsCase[]>("statistics"))("$values.length values", (item) => {
    const values = withNaN(item.values);
    // The same double arithmetic up to the last rounding of one mean or one interpolation.
    expect(median(values)).toBeCloseTo(item.median, 12);
    expect(medianAbsoluteDeviation(values)).toBeCloseTo(item.mad, 12);
    item.shares.forEach((share, i) => {
      expect(quantile(values, share)).toBeCloseTo(item.quantiles[i]!, 12);
    });
  });

  it("{1, 1, 2, 2, 4, 6, 9}: median 2, deviation 1 (encyclopaedic example)", () => {
    const values = [1, 1, 2, 2, 4, 6, 9];
    expect(median(values)).toBe(2);
    expect(medianAbsoluteDeviation(values)).toBe(1);
    expect(robustSigma(values)).toBe(1.482602218505602);
  });

  it("the factor is 1/Φ⁻¹(3/4) (Rousseeuw & Croux 1993, J. Am. Stat. Assoc. 88:1273; citation from memory)", () => {
    expect(Math.abs(SIGMA_PER_MAD * normalQuantile(0.75) - 1)).toBeLessThan(1e-15);
    expect(normalQuantile(0.75)).toBeCloseTo(0.674489750196082, 14);
  });
});

describe("normal tails and quantiles", () => {
  // Abramowitz & Stegun 1964, tables 26.1, 26.5 and 26.6 (table numbers from memory); recomputed with SciPy, 15 digits.
  it.each([
    [1, 0.158655253931457],
    [2, 0.0227501319481792],
    [3, 1.34989803163009e-3],
    [3.5, 2.32629079035525e-4],
    [4, 3.16712418331199e-5],
    [4.5, 3.39767312473006e-6],
    [5, 2.86651571879193e-7],
    [6, 9.86587645037695e-10],
  ])("one in … above %f sigma: %f", (z, tail) => {
    expect(Math.abs(normalTail(z) / tail - 1)).toBeLessThan(1e-12);
  });

  it.each([
    [0.1, 1.281551566],
    [0.05, 1.644853627],
    [0.025, 1.959963985],
    [0.01, 2.326347874],
    [1e-3, 3.090232306],
    [1e-4, 3.719016485],
    [1e-5, 4.264890794],
    [1e-6, 4.753424309],
    [1e-7, 5.199337582],
    [1e-9, 5.997807015],
  ])("chance %f is met at %f sigma", (p, z) => {
    // Printed to nine decimals.
    expect(Math.abs(zForTail(p) - z)).toBeLessThan(6e-10);
  });

  it("mpmath at 40 digits, chances from 1e-300 to 1", () => {
    const cases = referenceCases<{ z: number[]; tail: number[]; p: number[]; zForTail: number[] }>("special");
    // e^(−z²/2) in double: the rounding of z²/2 = 700 alone is 1e-13.
    expect(largestRelativeError(cases.z.map(normalTail), cases.tail)).toBeLessThan(1e-12);
    expect(largestRelativeError(cases.p.map(zForTail), cases.zForTail)).toBeLessThan(1e-12);
  });
});

describe("far tails of the normal distribution, at Šidák's chances for 5 % (1967, J. Am. Stat. Assoc. 62:626; citation from memory)", () => {
  it.each([
    [10, 5.11619689e-3, 2.567875369, 2.799625219],
    [100, 5.12801416e-4, 3.283407535, 3.473978869],
    [1000, 5.12919789e-5, 3.884397501, 4.04966055],
    [19200, 2.67152218e-6, 4.550846794, 4.694582164],
    [76800, 6.67881214e-7, 4.834357657, 4.970477763],
    [307200, 1.66970345e-7, 5.103209655, 5.23279006],
    [1e6, 5.12932931e-8, 5.322081506, 5.446768008],
  ])("%i tests: %f each, %f sigma one-sided, %f two-sided", (count, chance, oneSided, twoSided) => {
    const found = -Math.expm1(Math.log1p(-0.05) / count);
    // Nine digits printed: half a step is at most 5e-9 of the value.
    expect(Math.abs(found / chance - 1)).toBeLessThan(5e-9);
    expect(Math.abs(zForTail(found) - oneSided)).toBeLessThan(1e-9);
    expect(Math.abs(zForTail(found / 2) - twoSided)).toBeLessThan(1e-9);
  });
});
