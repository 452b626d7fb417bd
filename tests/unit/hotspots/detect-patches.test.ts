import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { detectPatches } from "../../../src/hotspots/detect-patches.js";
import { useKernels } from "../../../src/numeric/kernels.js";

const width = 12;
const height = 7;

/** A layer with the given contrast at some pixels, noise 0.1 K everywhere. */
function layer(sigmaPx: number, at: Record<number, number>) {
  const contrast = createRaster("K", width, height);
  for (const [i, value] of Object.entries(at)) contrast.data[Number(i)] = value;
  return { sigmaPx, contrast, noise: createRaster("K", width, height, new Float32Array(84).fill(0.1)) };
}

const smooth = (at: Record<number, number>) => layer(1, at).contrast;

describe.each([
  ["by the compiled kernels", true],
  ["by the plain code", false],
])("detectPatches, %s", (_, compiled) => {
  beforeEach(() => useKernels(compiled));
  afterEach(() => useKernels(true));

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

  it.each([0, 5, 11, 36, 41, 47, 72, 78, 83])(
    "pixel %i takes in what nearly is significant beside it, across no border of the frame",
    (at) => {
      // Everything else reaches four fifths of the threshold, so that each neighbour is taken in and nothing more.
      const nearly = Object.fromEntries(
        Array.from({ length: width * height }, (_, i) => [i, i === at ? 0.52 : 0.41]),
      );
      const rise = smooth(
        Object.fromEntries(Array.from({ length: width * height }, (_, i) => [i, i === at ? 2 : 1])),
      );
      const found = detectPatches([layer(1, nearly)], rise, 5, { splitSigma: 1000 });
      const [x, y] = [at % width, Math.floor(at / width)];
      const beside = Array.from({ length: width * height }, (_, i) => i).filter(
        (i) => Math.abs((i % width) - x) <= 1 && Math.abs(Math.floor(i / width) - y) <= 1,
      );
      expect(found.patches).toHaveLength(1);
      expect([...found.patches[0]!.pixels].sort((a, b) => a - b)).toEqual(beside);
    },
  );

  it("takes nothing in from what was taken in: it grows by one pixel, not by many", () => {
    const row = Object.fromEntries([24, 25, 26, 27, 28].map((i) => [i, i === 24 ? 0.52 : 0.41]));
    const found = detectPatches([layer(1, row)], smooth({ 24: 2, 25: 1.5, 26: 1.2, 27: 1, 28: 0.9 }), 5);
    expect([...found.patches[0]!.pixels]).toEqual([24, 25]);
  });

  it("what only stands out of surroundings that cooled is no heat", () => {
    const peaks = { 15: 0.6, 40: 0.6, 65: 0.6 };
    const found = detectPatches([layer(1, peaks)], smooth({ 15: 0.7, 40: 0, 65: -0.4 }), 5);
    expect(found.patches.map(({ peak }) => peak)).toEqual([15]);
  });

  it("tops of faint heat are split by what noise allows, of strong heat by their share", () => {
    const contrast = Object.fromEntries([26, 27, 28, 29, 30].map((i) => [i, 3]));
    const tops = (top: number, pass: number) =>
      detectPatches(
        [layer(1, contrast)],
        smooth({
          26: top - 2 * pass,
          27: top,
          28: top - 1.5 * pass,
          29: top - 0.5 * pass,
          30: top - 2 * pass,
        }),
        5,
        { splitSigma: 4, splitShare: 0.05 },
      ).patches.length;
    // The lower top stands as much above the pass as `pass` says. Noise 0.1 K: four times it is 0.4 K; 5 % of 2 K are
    // 0.1 K.
    expect([tops(2, 0.39), tops(2, 0.41)]).toEqual([1, 2]);
    // 5 % of 40 K are 2 K.
    expect([tops(40, 1.9), tops(40, 2.1)]).toEqual([1, 2]);
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

  it("a pixel that one size can tell nothing of is judged by the other; infinite contrast is a mark of no size", () => {
    const [fine, coarse] = [layer(1, { 30: Number.NaN, 31: 0.6 }), layer(2, { 30: 0.7, 31: Number.NaN })];
    const found = detectPatches([fine, coarse], smooth({ 30: 2, 31: 1.9 }), 5);
    expect([...found.patches[0]!.pixels]).toEqual([30, 31]);
    expect(found.significance.data[30]).toBeCloseTo(7, 5);
    fine.contrast.data[50] = Number.POSITIVE_INFINITY;
    expect(detectPatches([fine, coarse], smooth({ 30: 2, 31: 1.9 }), 5).significance.data[50]).toBeNaN();
  });

  it("without any size nothing has a significance", () => {
    const found = detectPatches(
      [layer(1, Object.fromEntries([...Array(84).keys()].map((i) => [i, Number.NaN])))],
      smooth({}),
      5,
    );
    expect(found.patches).toEqual([]);
    expect(found.significance.data.every(Number.isNaN)).toBe(true);
  });

  it("what was found stays as it is when the next frame is searched", () => {
    const first = detectPatches([layer(1, { 30: 0.6 })], smooth({ 30: 2 }), 5);
    const kept = [...first.significance.data];
    detectPatches([layer(1, { 50: 0.9 })], smooth({ 50: 2 }), 5);
    expect([...first.significance.data]).toEqual(kept);
  });
});
