import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { gaussianFilter } from "../../../src/numeric/gaussian-filter.js";
import { labelComponents } from "../../../src/numeric/label-components.js";
import { contrastGain } from "../../../src/rise/contrast-gain.js";
import { cycleBasis } from "../../../src/rise/cycle-basis.js";
import {
  amplitudeThreshold,
  chanceOfPower,
  expectedPowerExcursions,
} from "../../../src/rise/cycle-chance.js";
import { heatPhase } from "../../../src/rise/cycle-phase.js";
import { measureStrength, pixelAmplitudeNoise, type Quadratures } from "../../../src/rise/cycle-strength.js";
import { demodulateCycle } from "../../../src/rise/demodulate-cycle.js";
import { frameLevels } from "../../../src/rise/frame-levels.js";
import { makeRandom } from "../../simulate/random.js";
import { makeSequence, unevenness } from "./make-sequence.js";

function noise(width: number, height: number, sigmaK: number, seed: string): Quadratures {
  const random = makeRandom(seed);
  const make = () =>
    createRaster(
      "K",
      width,
      height,
      Float32Array.from({ length: width * height }, () => sigmaK * random.normal()),
    );
  return { cosine: make(), sine: make() };
}

describe("contrastGain", () => {
  it("is what white noise shows, in the middle, at the edge and in the corner", () => {
    const [width, height, sigma] = [19, 14, 1.3];
    const gain = contrastGain(width, height, sigma, 2 * sigma);
    const random = makeRandom("gain");
    const squares = new Float64Array(width * height);
    const draws = 3000;
    for (let k = 0; k < draws; k++) {
      const white = Float32Array.from(squares, () => random.normal());
      const fine = gaussianFilter(white, width, height, sigma);
      const wide = gaussianFilter(white, width, height, 2 * sigma);
      for (let i = 0; i < squares.length; i++) squares[i]! += (fine[i]! - wide[i]!) ** 2;
    }
    for (const i of [0, 9, width * 7, width * 7 + 9, squares.length - 1]) {
      // A standard deviation from 3000 draws is good to 1.3 %: four of it.
      expect(Math.abs(Math.sqrt(squares[i]! / draws) / gain[i]! - 1)).toBeLessThan(0.052);
    }
    // The middle as by the formula for an endless picture, √0.45/(2√π·σ); sampling at whole pixels is off by 2 %.
    expect(gain[width * 7 + 9]! / (Math.sqrt(0.45) / (2 * Math.sqrt(Math.PI) * sigma))).toBeCloseTo(1, 1);
    expect(gain[0]! / gain[width * 7 + 9]!).toBeGreaterThan(1.5);
  });
});

describe("measureStrength", () => {
  it("the noise of a place is its own: twice as noisy a half has twice the noise, and the signal no part in it", () => {
    const [width, height] = [64, 49];
    const louder = (one: Quadratures): Quadratures => {
      const scale = ({ data }: { data: Float32Array }) =>
        createRaster(
          "K",
          width,
          height,
          data.map((v, i) => (i % width >= 32 ? 2 : 1) * v),
        );
      return { cosine: scale(one.cosine), sine: scale(one.sine) };
    };
    const neighbours = Array.from({ length: 12 }, (_, j) => louder(noise(width, height, 1e-3, `loud ${j}`)));
    const signal = louder(noise(width, height, 1e-3, "signal"));
    signal.cosine.data[20 * width + 12] = 1;
    const { layers, power, strength } = measureStrength(signal, neighbours);
    const { data } = layers[0]!.noise;
    // Far from the seam, each rests on some 360 numbers: 4 %, four of it.
    expect(Math.abs(data[24 * width + 52]! / data[24 * width + 12]! / 2 - 1)).toBeLessThan(0.22);
    expect(data[20 * width + 12]! / data[36 * width + 12]!).toBeLessThan(1.2);
    expect(strength.data[20 * width + 12]).toBeGreaterThan(50);
    expect(power).toBeCloseTo(0.5 * strength.data[20 * width + 12]! ** 2, 0);
  });

  it("pixelAmplitudeNoise gives back the noise that was put in", () => {
    const neighbours = Array.from({ length: 5 }, (_, j) => noise(53, 38, 1.7e-3, `pixel ${j}`));
    const { data } = pixelAmplitudeNoise(neighbours, 0);
    const mean = data.reduce((sum, value) => sum + value, 0) / data.length;
    // 5 × 2 × 2014 numbers: 0.5 %; the kernel at whole pixels and the border take as much again.
    expect(Math.abs(mean / 1.7e-3 - 1)).toBeLessThan(0.02);
  });
});

describe("chances", () => {
  it("amplitudes above 4σ in smooth noise come as often as the formula says", () => {
    const side = 400;
    const sigma = 3;
    // The border, where fewer pixels are averaged, is left out.
    const border = 12;
    const resels = (side - 2 * border) ** 2 / (2.354820045030949 * sigma) ** 2;
    let found = 0;
    const fields = 4;
    for (let k = 0; k < fields; k++) {
      const { cosine, sine } = noise(side, side, 1, `field ${k}`);
      const white = 1 / (2 * Math.sqrt(Math.PI) * sigma);
      const a = gaussianFilter(cosine.data, side, side, sigma);
      const b = gaussianFilter(sine.data, side, side, sigma);
      const inside = (at: number) => at >= border && at < side - border;
      const mask = Uint8Array.from(a, (value, i) =>
        inside(i % side) && inside(Math.floor(i / side)) && Math.hypot(value, b[i]!) > 4 * white ? 1 : 0,
      );
      found += labelComponents(mask, side, side, 8).count;
    }
    const expected = fields * expectedPowerExcursions(8, resels);
    expect(expected).toBeGreaterThan(20);
    // Counts of rare places scatter as their root; pixels miss the tops of some. Three of it.
    expect(Math.abs(found - expected)).toBeLessThan(3 * Math.sqrt(expected));
  });

  it("the threshold is the level of the stated number, and never below 2.5", () => {
    const z = amplitudeThreshold(700, 0.01, 3);
    expect(expectedPowerExcursions(0.5 * z * z, 700)).toBeCloseTo(0.01 / 3, 6);
    expect(amplitudeThreshold(1, 50, 1)).toBe(2.5);
  });

  it("chanceOfPower falls with the power, and stays between 0 and 1 for any", () => {
    const others = [8.8, 10.4, 9.3, 11.7];
    const powers = [0, 0.7, 1.5, 4, 9, 12, 30, 300, 2000];
    const chances = powers.map((power) => chanceOfPower(power, others));
    chances.forEach((chance, k) => {
      expect(chance).toBeGreaterThanOrEqual(0);
      expect(chance).toBeLessThanOrEqual(1);
      if (k > 0) expect(chance).toBeLessThanOrEqual(chances[k - 1]!);
    });
    // By the formula 1 − 10⁻⁹ and 6·10⁻⁹.
    expect(chances[0]).toBeGreaterThan(0.999);
    expect(chances[6]).toBeLessThan(1e-6);
  });

  it("noise alone, drift and all: chances of 100 sequences are spread evenly", () => {
    const chances = Array.from({ length: 100 }, (_, k) => {
      const { powered } = makeSequence({ seed: `even ${k}`, width: 37, height: 29, frames: 48, before: 0 });
      const found = demodulateCycle(powered, frameLevels(powered, null), cycleBasis(48, 6.7));
      const { power, neighbourPowers } = measureStrength(found, found.neighbours);
      return chanceOfPower(power, neighbourPowers);
    });
    const { above, below } = unevenness(chances);
    // Kolmogorov & Smirnov: of evenly spread sequences of 100, one in a thousand is further off than 1.95/√100.
    expect(above).toBeLessThan(0.195);
    expect(below).toBeLessThan(0.195);
  });
});

describe("heatPhase", () => {
  const [width, height] = [47, 33];
  const neighbours = Array.from({ length: 8 }, (_, j) => noise(width, height, 1e-3, `beside ${j}`));
  /** Noise of 1 mK with something in it that follows the supply. */
  const withHeat = (phase: number, heatK: (x: number, y: number) => number): Quadratures => {
    const signal = noise(width, height, 1e-3, `phase ${phase}`);
    for (let i = 0; i < width * height; i++) {
      const heat = heatK(i % width, Math.floor(i / width));
      signal.cosine.data[i]! += heat * Math.cos(phase);
      signal.sine.data[i]! += heat * Math.sin(phase);
    }
    return signal;
  };
  const spot = (x: number, y: number): number => 0.02 * Math.exp(-((x - 30) ** 2 + (y - 12) ** 2) / 12.5);

  it.each([0.4, 1.9, 3.3, 5.6])("a spot of phase %f rad has it, in the direction that is warmer", (phase) => {
    const signal = withHeat(phase, spot);
    const found = heatPhase(measureStrength(signal, neighbours), signal, null);
    // The contrast of the spot is some 40 sigma: 1/40 rad for one place, four of it.
    expect(Math.abs(found - phase)).toBeLessThan(0.1);
  });

  it("a board that warms throughout stands out as much beside its edge: what is off it tells the direction", () => {
    const onBoard = (x: number, y: number): boolean => x > 9 && x < 44 && y > 5 && y < 28;
    const signal = withHeat(2.6, (x, y) => spot(x, y) + (onBoard(x, y) ? 0.06 : 0));
    const off = Uint8Array.from({ length: width * height }, (_, i) =>
      onBoard(i % width, Math.floor(i / width)) ? 0 : 1,
    );
    const strength = measureStrength(signal, neighbours);
    // As for the spot alone.
    expect(Math.abs(heatPhase(strength, signal, off) - 2.6)).toBeLessThan(0.1);
    // Nothing off the board: as if no board were known, one direction or the other.
    const blind = heatPhase(strength, signal, new Uint8Array(width * height));
    expect(blind).toBe(heatPhase(strength, signal, null));
  });
});
