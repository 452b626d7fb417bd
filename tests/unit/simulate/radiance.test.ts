import { describe, expect, it } from "vitest";
import { planckBand, radianceOf, temperatureOf } from "../../simulate/band-radiance.js";

// Planck's law with the CODATA 2018 constants, integrated independently with SciPy over 8–14 µm, W/m²sr.
const BAND = [
  [293.15, 49.3728948],
  [298.15, 53.3965389],
  [300, 54.9334614],
  [323.15, 76.3863816],
  [353.15, 110.333566],
] as const;

describe("band radiance", () => {
  it.each(BAND)("at %f K is %f W/m²sr", (kelvin, expected) => {
    // 1e-7: the constants are given to ten digits.
    expect(Math.abs(planckBand(kelvin) / expected - 1)).toBeLessThan(1e-7);
    expect(Math.abs(radianceOf(kelvin - 273.15) / expected - 1)).toBeLessThan(1e-6);
  });

  it("is undone to 0.1 mK between −30 and 150 °C", () => {
    for (let c = -30; c <= 150; c += 3.7)
      expect(Math.abs(temperatureOf(radianceOf(c)) - c)).toBeLessThan(1e-4);
  });

  // The signal model of ISO 18434-1 (place from memory): S = ε·L(T) + (1 − ε)·L(Trefl), shown as if ε were 1.
  // Apparent rise of an object 10 K above 25 °C, surroundings 25 °C, computed independently.
  it.each([
    [0.1, 1.041364],
    [0.5, 5.110941],
    [0.9, 9.038625],
  ])("with ε = %f shows a rise of 10 K as %f K", (emissivity, expected) => {
    const signal = emissivity * radianceOf(35) + (1 - emissivity) * radianceOf(25);
    expect(Math.abs(temperatureOf(signal) - 25 - expected)).toBeLessThan(2e-4);
  });

  it("refuses what the table does not hold", () => {
    expect(() => radianceOf(-61)).toThrow(RangeError);
    expect(() => temperatureOf(1e4)).toThrow(RangeError);
  });
});
