import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { cycleBasis } from "../../../src/rise/cycle-basis.js";
import { demodulateCycle } from "../../../src/rise/demodulate-cycle.js";
import { frameLevels } from "../../../src/rise/frame-levels.js";
import { MEASURED, makeSequence } from "./make-sequence.js";

const rms = (values: Float32Array): number =>
  Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);

describe("demodulateCycle", () => {
  const recipe = { seed: "lone wave", width: 37, height: 23, frames: 150, periodFrames: 8.7, before: 0 };
  const basis = cycleBasis(recipe.frames, recipe.periodFrames);
  const still = new Float64Array(recipe.frames);

  it("without noise: the amplitude and phase that were put in, the mean, and nothing beside the supply", () => {
    const { powered } = makeSequence({
      ...recipe,
      noiseK: 0,
      walkK: 0,
      amplitudeK: 0.04,
      atPx: [20, 9],
      phaseRad: 1.2,
    });
    const found = demodulateCycle(powered, still, basis);
    const at = 9 * recipe.width + 20;
    // Frames are single precision: 2 µK at 24 °C, averaged.
    expect(found.cosine.data[at]).toBeCloseTo(0.04 * Math.cos(1.2), 6);
    expect(found.sine.data[at]).toBeCloseTo(0.04 * Math.sin(1.2), 6);
    for (const { cosine, sine } of found.neighbours) {
      expect(rms(cosine.data)).toBeLessThan(1e-6);
      expect(rms(sine.data)).toBeLessThan(1e-6);
    }
    // 150 frames are no whole number of periods: 5 % of the amplitude at most is left in the mean.
    expect(Math.abs(found.mean.data[at]! - powered[0]!.data[at]! + 0.04 * Math.cos(1.2))).toBeLessThan(0.002);
  });

  it("1000 frames of 37 mK with drift: the noise of both amplitudes and of every neighbour is √(2/N)·σ", () => {
    const { powered } = makeSequence({ seed: "noise", width: 61, height: 43 });
    const found = demodulateCycle(
      powered,
      frameLevels(powered, null),
      cycleBasis(1000, MEASURED.periodFrames),
    );
    // Pixels differ by 8 %, which makes the root mean square 0.3 % larger; that of 2623 pixels is good to 1.4 %.
    const white = Math.sqrt(2 / 1000) * MEASURED.noiseK;
    const rasters = [found, ...found.neighbours].flatMap(({ cosine, sine }) => [cosine, sine]);
    expect(rasters).toHaveLength(26);
    for (const { data } of rasters) {
      expect(rms(data) / white).toBeGreaterThan(0.94);
      expect(rms(data) / white).toBeLessThan(1.06);
    }
    // From differences of successive frames: good to 0.1 % over all pixels; levels add 0.02 % of their own.
    expect(rms(found.sigma.data) / MEASURED.noiseK).toBeGreaterThan(0.99);
    expect(rms(found.sigma.data) / MEASURED.noiseK).toBeLessThan(1.015);
  });

  it("missing readings are fitted around, flares left out; a pixel without enough readings has none", () => {
    const { powered } = makeSequence({
      ...recipe,
      noiseK: 0.001,
      walkK: 0,
      amplitudeK: 0.04,
      atPx: [20, 9],
      phaseRad: 1.2,
    });
    const at = 9 * recipe.width + 20;
    powered.forEach(({ data }, n) => {
      if (n % 9 === 4) data[at] = Number.NaN;
      if (n % 3 === 1) data[at + 1] = Number.NaN;
      if (n === 31 || n === 77) data[at - recipe.width] = data[at - recipe.width]! + 5;
    });
    const found = demodulateCycle(powered, still, basis);
    // √(2/150) of 1 mK is 0.12 mK: four of it. A flare of 5 K would leave 5·2/150 = 67 mK.
    expect(Math.abs(found.cosine.data[at]! - 0.04 * Math.cos(1.2))).toBeLessThan(5e-4);
    expect(Math.abs(found.sine.data[at]! - 0.04 * Math.sin(1.2))).toBeLessThan(5e-4);
    const above = Math.exp(-1 / 18);
    expect(Math.abs(found.cosine.data[at - recipe.width]! - above * 0.04 * Math.cos(1.2))).toBeLessThan(5e-4);
    expect(found.outliers).toBe(2);
    expect(found.cosine.data[at + 1]).toBeNaN();
    expect(found.neighbours[0]!.sine.data[at + 1]).toBeNaN();
  });

  it("a pixel that never varies has amplitude 0 and no outliers", () => {
    const frames = Array.from({ length: 40 }, (_, n) =>
      createRaster(
        "degC",
        3,
        2,
        Float32Array.from({ length: 6 }, (_, i) => (i === 4 ? 21.5 : 20 + 0.1 * ((n * (i + 3)) % 7))),
      ),
    );
    const found = demodulateCycle(frames, new Float64Array(40), cycleBasis(40, 9));
    expect(found.cosine.data[4]).toBe(0);
    expect(found.sigma.data[4]).toBe(0);
    expect(found.mean.data[4]).toBeCloseTo(21.5, 5);
  });
});

describe("frameLevels", () => {
  it("follows a walk of the common offset while a quarter of the frame goes up and down by more than it", () => {
    const { powered } = makeSequence({
      seed: "levels",
      width: 83,
      height: 61,
      frames: 40,
      before: 0,
      amplitudeK: 2,
      spotPx: 8,
      periodFrames: 8,
    });
    const levels = frameLevels(powered, null);
    // A corner far from the spot, averaged over 15 × 15 pixels, knows the level to 37/15 = 2.5 mK.
    const corner = powered.map(({ data }) => {
      let sum = 0;
      for (let y = 0; y < 15; y++) for (let x = 0; x < 15; x++) sum += data[(60 - y) * 83 + x]!;
      return sum / 225;
    });
    const offset = corner[0]! - levels[0]!;
    corner.forEach((value, n) => {
      // Four of those; the spot's skirt, which is not told from noise, pulls the bulk of the frame by 1.5 % of its 2 K.
      expect(Math.abs(value - offset - levels[n]!)).toBeLessThan(0.04);
    });
  });

  it("takes the pixels off the board where there are enough, and 0 for a frame without readings", () => {
    const frames = [0, 1, 2].map((n) =>
      createRaster(
        "degC",
        12,
        10,
        Float32Array.from({ length: 120 }, (_, i) => (i < 30 ? 20 + 0.1 * n : 25 + 3 * n)),
      ),
    );
    const off = Uint8Array.from({ length: 120 }, (_, i) => (i < 30 ? 1 : 0));
    const levels = frameLevels(frames, off);
    // Single precision at 20 °C.
    expect(levels[1]! - levels[0]!).toBeCloseTo(0.1, 5);
    expect(levels[2]! - levels[0]!).toBeCloseTo(0.2, 5);
    // Off the board too little: the bulk of the frame decides.
    const whole = frameLevels(
      frames,
      Uint8Array.from({ length: 120 }, (_, i) => (i < 2 ? 1 : 0)),
    );
    expect(whole[1]! - whole[0]!).toBeCloseTo(3, 5);
    const empty = createRaster("degC", 12, 10, new Float32Array(120).fill(Number.NaN));
    expect(frameLevels([...frames, empty], off)[3]).toBe(0);
  });
});
