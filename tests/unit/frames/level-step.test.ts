import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { coarsestStep } from "../../../src/findings/prepare-pair.js";
import { frameFromRaster } from "../../../src/frames/frame.js";
import { levelStep } from "../../../src/frames/level-step.js";
import { makeRandom } from "../../simulate/random.js";

const random = makeRandom("level step");
const values = Array.from({ length: 64 * 48 }, () => 24 + 3 * random.normal());
const rasterOf = (change: (celsius: number) => number) =>
  createRaster("degC", 64, 48, Float32Array.from(values, change));
const rounded = (value: number, digits: number): number => Number(value.toFixed(digits));

describe("levelStep", () => {
  it.each([
    ["°C to a whole degree", (c: number) => rounded(c, 0), 1],
    ["°C to 0.1", (c: number) => rounded(c, 1), 0.1],
    ["K to 0.1", (c: number) => rounded(c + 273.15, 1) - 273.15, 0.1],
    ["°F to 0.1", (c: number) => (rounded(1.8 * c + 32, 1) - 32) / 1.8, 0.1 / 1.8],
    ["°C to 0.05", (c: number) => Math.round(c / 0.05) * 0.05, 0.05],
  ] as const)("tells readings in %s", (_, change, stepK) => {
    expect(levelStep(rasterOf(change))).toBeCloseTo(stepK, 9);
  });

  it("tells none of finer readings, of readings that are not rounded, and of one reading alone", () => {
    expect(levelStep(rasterOf((c) => rounded(c, 2)))).toBe(0);
    expect(levelStep(rasterOf((c) => c))).toBe(0);
    expect(levelStep(rasterOf(() => 25))).toBe(0);
    expect(levelStep(rasterOf(() => Number.NaN))).toBe(0);
  });

  it("leaves pixels without a reading out", () => {
    const raster = rasterOf((c) => rounded(c, 1));
    raster.data[0] = Number.NaN;
    expect(levelStep(raster)).toBeCloseTo(0.1, 9);
  });

  it("goes into the coarsest step of frames that state none, and not where one is stated", () => {
    const frame = frameFromRaster(rasterOf((c) => rounded(c, 1)));
    expect(coarsestStep([frame])).toBeCloseTo(0.1, 9);
    expect(coarsestStep([{ ...frame, stepK: 0.02 }])).toBe(0.02);
    expect(coarsestStep([frameFromRaster(rasterOf((c) => c))])).toBe(0);
  });
});
