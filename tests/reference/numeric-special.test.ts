// Bessel functions and the exponential integral against mpmath and published tables.
import { describe, expect, it } from "vitest";
import { besselI0, besselI1, besselK0, besselK1 } from "./bessel.js";
import { expIntegral } from "./expint.js";
import { largestRelativeError, referenceCases } from "./numeric-reference-data.js";

interface SpecialCases {
  x: number[];
  i0: number[];
  i1: number[];
  k0: number[];
  k1: number[];
  e1: number[];
}

describe("special functions against mpmath at 40 digits", () => {
  const cases = referenceCases<SpecialCases>("special");
  // Forty roundings of double in a series and, for x = 600, the rounding of e^600: below 1e-12.
  it.each([
    ["I0", besselI0, cases.i0],
    ["I1", besselI1, cases.i1],
    ["K0", besselK0, cases.k0],
    ["K1", besselK1, cases.k1],
    ["E1", expIntegral, cases.e1],
  ] as const)("%s from 1e-6 to 600", (_, compute, expected) => {
    expect(largestRelativeError(cases.x.map(compute), expected)).toBeLessThan(1e-12);
  });
});

describe("Bessel functions: Abramowitz & Stegun 1964, table 9.8, pp. 416–422 (recomputed with mpmath)", () => {
  it.each([
    [0.01, 4.721244730161095, 99.9738941182962, 1.000025000156, 0.0050000625],
    [0.05, 3.11423402947199, 19.90967432588251, 1.000625097663, 0.02500781331],
    [0.1, 2.427069024702017, 9.853844780870606, 1.002501562934, 0.05006252605],
    [0.5, 0.9244190712276659, 1.656441120003301, 1.063483370741, 0.2578943054],
    [1.0, 0.4210244382407083, 0.6019072301972346, 1.266065877752, 0.565159104],
    [2.0, 0.1138938727495334, 0.1398658818165224, 2.279585302336, 1.590636854637],
    [2.5, 0.06234755320036619, 0.0738908163477471, 3.28983914405, 2.516716245289],
    [5.0, 0.003691098334042594, 0.004044613445452164, 27.2398718236, 24.33564214245],
    [10, 1.778006231616765e-5, 1.864877345382558e-5, 2815.716628466, 2670.988303701],
  ])("x = %f", (x, k0, k1, i0, i1) => {
    expect(Math.abs(besselK0(x) / k0 - 1)).toBeLessThan(1e-13);
    expect(Math.abs(besselK1(x) / k1 - 1)).toBeLessThan(1e-13);
    // I printed to ten digits.
    expect(Math.abs(besselI0(x) / i0 - 1)).toBeLessThan(5e-10);
    expect(Math.abs(besselI1(x) / i1 - 1)).toBeLessThan(5e-10);
  });

  it("K0(0.01) is 4.7212447…, not the 4.7212358… or 4.7212359… that circulate in test files", () => {
    expect(besselK0(0.01)).toBeCloseTo(4.721244730161095, 13);
    expect(Math.abs(besselK0(0.01) - 4.7212358389)).toBeGreaterThan(8e-6);
  });
});

describe("E1: Abramowitz & Stegun 1964, table 5.1 (recomputed with mpmath)", () => {
  it.each([
    [1e-4, 8.633224704574706],
    [0.001, 6.331539364136149],
    [0.01, 4.037929576538114],
    [0.1, 1.822923958419391],
    [0.5, 0.5597735947761608],
    [1, 0.2193839343955203],
    [1.5, 0.1000195824066327],
    [2.5, 0.02491491787026974],
    [5, 0.001148295591275326],
    [10, 4.156968929685324e-6],
  ])("x = %f", (x, e1) => {
    expect(Math.abs(expIntegral(x) / e1 - 1)).toBeLessThan(1e-13);
  });
});

describe("heat in an infinite plate, a worked example: 0.5 W, 20 W/mK, 1 mm, 20 W/m²K of both faces", () => {
  // θ(r) = P/(2πkt)·K0(r/L) (Carslaw & Jaeger 1959, ch. X, from memory; Hantush & Jacob 1955 for groundwater).
  const perLog = 0.5 / (2 * Math.PI * 20 * 1e-3);
  const coolingMm = 1e3 * Math.sqrt((20 * 1e-3) / 20);

  it.each([
    [1, 14.2083654],
    [5, 7.87382229],
    [10, 5.26937503],
    [50, 0.766148773],
  ])("steady, %f mm from the source: %f K", (rMm, riseK) => {
    // Nine digits; the last may be off by one: 14.2083654 is 14.20836531 at 20 digits.
    expect(Math.abs((perLog * besselK0(rMm / coolingMm)) / riseK - 1)).toBeLessThan(1e-8);
  });

  it.each([
    [2, 1, 3.46806156],
    [5, 10, 4.32511026],
    [10, 60, 5.0877409],
  ])("without loss, %f mm, %f s after power-on: %f K", (rMm, timeS, riseK) => {
    const diffusivity = 20 / (1900 * 1150);
    const u = (rMm * 1e-3) ** 2 / (4 * diffusivity * timeS);
    expect(Math.abs(((perLog / 2) * expIntegral(u)) / riseK - 1)).toBeLessThan(1e-8);
  });
});
