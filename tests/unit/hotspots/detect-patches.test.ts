import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { detectPatches } from "../../../src/hotspots/detect-patches.js";

const width = 12;
const height = 7;

/** A layer with the given contrast at some pixels, noise 0.1 K everywhere. */
function layer(sigmaPx: number, at: Record<number, number>) {
  const contrast = createRaster("K", width, height);
  for (const [i, value] of Object.entries(at)) contrast.data[Number(i)] = value;
  return { sigmaPx, contrast, noise: createRaster("K", width, height, new Float32Array(84).fill(0.1)) };
}

const smooth = (at: Record<number, number>) => layer(1, at).contrast;

describe("detectPatches", () => {
  it("a pixel counts that is significant at any size; the significance is the largest", () => {
    const layers = [layer(1, { 30: 0.6, 31: 0.2 }), layer(2, { 30: 0.3, 31: 0.9 })];
    const found = detectPatches(layers, smooth({ 30: 2, 31: 1.9 }), 5);
    expect(found.patches).toHaveLength(1);
    const [patch] = found.patches;
    expect([...patch!.pixels]).toEqual([30, 31]);
    expect(patch!.peak).toBe(30);
    expect(patch!.significance).toBeCloseTo(9, 5);
    expect(found.significance.data[31]).toBeCloseTo(9, 5);
    expect(found.significance.data[0]).toBe(0);
  });

  it("exactly at the threshold counts, below does not, cold never", () => {
    const layers = [layer(1, { 20: 0.5, 40: 0.49, 60: -3 })];
    layers[0]!.noise.data.fill(0.125);
    expect(detectPatches(layers, smooth({ 20: 1, 40: 1 }), 4).patches.map((p) => p.peak)).toEqual([20]);
  });

  it("specks of one faint spot are one patch where what lies between nearly is significant", () => {
    // Pixels 28 and 30 of a row reach the threshold of 5; 29 reaches four fifths of it, or not quite.
    const rise = smooth({ 28: 1, 29: 0.98, 30: 0.99 });
    expect(detectPatches([layer(1, { 28: 0.52, 29: 0.41, 30: 0.51 })], rise, 5).patches).toHaveLength(1);
    expect(detectPatches([layer(1, { 28: 0.52, 29: 0.39, 30: 0.51 })], rise, 5).patches).toHaveLength(2);
  });

  it("a ripple on strong heat is not split off, a second source is", () => {
    const contrast = Object.fromEntries([26, 27, 28, 29, 30].map((i) => [i, 3]));
    // Tops of 40 K and of 39 K; with a pass of 38.5 K it is a ripple of 1 %, with one of 20 K a second source.
    const ripple = smooth({ 26: 39, 27: 40, 28: 38.5, 29: 39, 30: 38 });
    const second = smooth({ 26: 39, 27: 40, 28: 20, 29: 39, 30: 38 });
    expect(detectPatches([layer(1, contrast)], ripple, 5).patches).toHaveLength(1);
    expect(detectPatches([layer(1, contrast)], second, 5).patches).toHaveLength(2);
  });

  it("missing readings have no significance and belong to no patch", () => {
    const layers = [layer(1, { 30: Number.NaN, 31: 2 })];
    const found = detectPatches(layers, smooth({ 30: 9, 31: 2 }), 5);
    expect(found.significance.data[30]).toBeNaN();
    expect([...found.patches[0]!.pixels]).toEqual([31]);
  });
});
