// Radiance of the 8–14 µm band and what an emissivity makes of a rise, against values computed elsewhere from Planck's
// law with the CODATA 2018 constants (adaptive quadrature in double precision, ten digits; the table was made before
// and apart from the project). The fraction function is that of Incropera & DeWitt, table 12.1 (from memory).
import { describe, expect, it } from "vitest";
import { bandRadiance, temperatureOfRadiance } from "../../src/rise/band-radiance.js";
import { riseFromApparent } from "../../src/rise/rise-from-apparent.js";

/** Absolute temperature, K; radiance, W/m²sr; its slope, W/m²sr·K; power law's exponent. */
const BAND: readonly (readonly [number, number, number, number])[] = [
  [293.15, 49.3728948, 0.785778501, 4.6655],
  [298.15, 53.3965389, 0.823721563, 4.5994],
  [300, 54.9334614, 0.83782129, 4.5755],
  [323.15, 76.3863816, 1.015936604, 4.2979],
  [353.15, 110.333566, 1.24664019, 3.9902],
];

/** Emissivity, true rise, apparent rise from 25 °C with surroundings at 25 °C, K. */
const APPARENT: readonly (readonly [number, number, number])[] = [
  [0.05, 10, 0.52193],
  [0.1, 1, 0.100416],
  [0.1, 10, 1.041364],
  [0.1, 50, 6.000276],
  [0.2, 10, 2.072883],
  [0.5, 10, 5.110941],
  [0.9, 1, 0.900413],
  [0.9, 10, 9.038625],
  [0.95, 20, 19.075385],
];

describe("radiance from 8 to 14 µm", () => {
  it.each(BAND)("at %f K: radiance, slope and exponent", (kelvin, radiance, slope, exponent) => {
    const celsius = kelvin - 273.15;
    // Nine digits are given; Simpson's rule with 48 panels leaves 1e-8, five times less than what is let pass.
    expect(bandRadiance(celsius) / radiance).toBeCloseTo(1, 7);
    const step = 0.05;
    const found = (bandRadiance(celsius + step) - bandRadiance(celsius - step)) / (2 * step);
    // Central difference: error of the order of step²·L‴/6, below 1e-7 of the slope.
    expect(found / slope).toBeCloseTo(1, 6);
    expect((kelvin * found) / bandRadiance(celsius)).toBeCloseTo(exponent, 4);
  });

  it("is 37.57 % of what a black body at 300 K radiates", () => {
    // σT⁴/π with σ = 5.670374419e-8; share 0.375742 from the fraction function.
    const whole = (5.670374419e-8 * 300 ** 4) / Math.PI;
    expect(bandRadiance(26.85) / whole).toBeCloseTo(0.375742, 6);
  });

  it("turns back into the temperature it came from", () => {
    for (const celsius of [-95, -12.5, 25, 61.3, 240, 990]) {
      expect(temperatureOfRadiance(bandRadiance(celsius))).toBeCloseTo(celsius, 8);
    }
    expect(temperatureOfRadiance(0)).toBeNaN();
  });
});

describe("riseFromApparent", () => {
  it.each(APPARENT)("ε = %f: a true rise of %f K shows as %f K", (emissivity, riseK, apparentK) => {
    // Six decimals of apparent rise are given; an error of 5e-7 K in it is 5e-7/ε in the true one.
    expect(riseFromApparent(apparentK, emissivity, 25, 25)).toBeCloseTo(riseK, emissivity < 0.3 ? 4 : 5);
  });

  it.each([
    [0.5, 4.889059],
    [0.9, 8.958636],
    [0.1, 0.961375],
  ])("ε = %f in front of surroundings at 35 °C: 10 K show as %f K", (emissivity, apparentK) => {
    expect(riseFromApparent(apparentK, emissivity, 25, 35)).toBeCloseTo(10, 4);
  });

  it("is not the division by ε, nor the rule of fourth powers: 50 K at ε = 0.1", () => {
    // The division would say 60 K.
    expect(riseFromApparent(6.000276, 0.1, 25, 25)).toBeLessThan(51);
    // T⁴ would show 6.207692 K for the same rise: read by the band it would be some 1.5 K more.
    expect(riseFromApparent(6.207692, 0.1, 25, 25)).toBeGreaterThan(51.3);
  });

  it("a black body shows its rise as it is, and no rise is none", () => {
    expect(riseFromApparent(7.25, 1, 21.5, 60)).toBeCloseTo(7.25, 9);
    expect(riseFromApparent(0, 0.07, 23, 31)).toBeCloseTo(0, 9);
    expect(riseFromApparent(-0.4, 0.5, 25, 25)).toBeLessThan(-0.75);
    expect(riseFromApparent(-60, 0.05, 25, 25)).toBeNaN();
  });
});
