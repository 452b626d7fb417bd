// Demodulation against NumPy's least squares, the chances against SciPy's distributions, the search against SciPy's
// Lomb–Scargle periodogram; made by tests/reference/scripts/cycle_reference.py, which names versions and seed.
// Published: Schuster 1898, Terr. Magn. 3:13; Lomb 1976, Astrophys. Space Sci. 39:447; Scargle 1982, Astrophys. J.
// 263:835; Worsley 1994, Adv. Appl. Prob. 26:13 (all from memory).
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { createRaster } from "../../src/core/raster.js";
import { cycleBasis } from "../../src/rise/cycle-basis.js";
import { chanceOfPower, expectedPowerExcursions } from "../../src/rise/cycle-chance.js";
import { demodulateCycle } from "../../src/rise/demodulate-cycle.js";
import { searchCycle } from "../../src/rise/find-cycle.js";

interface Cases {
  readonly fits: readonly {
    readonly frames: number;
    readonly periodFrames: number;
    readonly readings: readonly number[];
    readonly cosine: number;
    readonly sine: number;
    readonly gain: number;
  }[];
  readonly chances: readonly { power: number; others: readonly number[]; pValue: number }[];
  readonly excursions: readonly { power: number; resels: number; expected: number }[];
  readonly rayleigh: readonly { z: number; tail: number }[];
  readonly lines: readonly { frames: number; readings: readonly number[]; periodFrames: number }[];
}

const { cases } = JSON.parse(readFileSync(new URL("data/cycle.json", import.meta.url), "utf8")) as {
  cases: Cases;
};

describe("amplitudes of cosine and sine", () => {
  it.each(cases.fits.map((one) => [one.frames, one.periodFrames, one] as const))(
    "%i frames, period %f: as by numpy.linalg.lstsq",
    (frames, periodFrames, { readings, cosine, sine, gain }) => {
      const basis = cycleBasis(frames, periodFrames);
      const rasters = readings.map((value) => createRaster("degC", 1, 1, Float32Array.of(value)));
      const found = demodulateCycle(rasters, new Float64Array(frames), basis, { outlierSigma: 100 });
      // Frames are single precision: 6e-8 of readings up to 0.5 K, and as much again for the result.
      expect(Math.abs(found.cosine.data[0]! - cosine)).toBeLessThan(1e-7);
      expect(Math.abs(found.sine.data[0]! - sine)).toBeLessThan(1e-7);
      // All in double: rounding of some hundred products.
      expect(basis.gain).toBeCloseTo(gain, 10);
    },
  );
});

describe("chances", () => {
  it.each(cases.chances)("power $power beside $others: p = $pValue, SciPy's F distribution", (one) => {
    // p of 1e-7 and of 0.9 alike come out of one logarithm: relative rounding.
    expect(chanceOfPower(one.power, one.others) / one.pValue).toBeCloseTo(1, 9);
  });

  it.each(cases.excursions)("$resels resels above a power of $power: $expected places", (one) => {
    expect(expectedPowerExcursions(one.power, one.resels) / one.expected).toBeCloseTo(1, 12);
  });

  it.each(cases.rayleigh)(
    "one place alone: Rayleigh's distribution at z = $z is e^(−power)",
    ({ z, tail }) => {
      // A resel's count ÷ (4 ln 2/2π·(z² − 1)), the factor that turns places of a field into one place.
      const one = expectedPowerExcursions(0.5 * z * z, 1) / (((4 * Math.LN2) / (2 * Math.PI)) * (z * z - 1));
      expect(one / tail).toBeCloseTo(1, 12);
    },
  );
});

describe("searchCycle", () => {
  it.each(cases.lines.map((one) => [one.frames, one.periodFrames, one] as const))(
    "%i frames: the period %f of SciPy's Lomb–Scargle peak",
    (frames, periodFrames, { readings }) => {
      // Of 8 × 8 cells one has the readings; the cells around it see a 24th of it with the other sign, which adds to
      // the same line. The rest stand still, so that they drop out.
      const rasters = readings.map((value) => {
        const data = new Float32Array(32 * 32);
        for (let y = 12; y < 16; y++) data.fill(value, 32 * y + 12, 32 * y + 16);
        return createRaster("degC", 32, 32, data);
      });
      const found = searchCycle(rasters)!;
      // The bound for the period's standard error, √6·σ·P²/(π·A·N^1.5) with A = 50 and σ = 37 mK (Rife & Boorstyn 1974,
      // IEEE Trans. Inf. Theory 20:591, from memory). Drift is fitted along here and not there, which moves the peak by
      // less.
      const bound = (Math.sqrt(6) * 0.037 * periodFrames ** 2) / (Math.PI * 0.05 * frames ** 1.5);
      expect(Math.abs(found.periodFrames - periodFrames)).toBeLessThan(0.5 * bound);
      expect(found.frequenciesTried).toBeGreaterThan(0.4 * frames);
    },
  );
});
