import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { framePoint } from "../../../src/core/units.js";
import { LOCATE_DEFAULTS, locateSource } from "../../../src/hotspots/locate-source.js";

const width = 60;
const height = 44;

function hills(spots: readonly (readonly [x: number, y: number, peakK: number, spotPx: number])[]) {
  return createRaster(
    "K",
    width,
    height,
    Float32Array.from({ length: width * height }, (_, i) =>
      spots.reduce(
        (sum, [x, y, peak, s]) =>
          sum + peak * Math.exp(-(((i % width) - x) ** 2 + (Math.floor(i / width) - y) ** 2) / (2 * s * s)),
        0,
      ),
    ),
  );
}

describe("locateSource", () => {
  it.each([1.5, 2, 3, 4])(
    "a spot %f px wide, alone: its place, its width, and the error of the best estimate",
    (s) => {
      const rise = hills([[30.2, 20.7, 5, s]]);
      const { at, sigmaPx, widthPx } = locateSource(rise, framePoint(30, 21), 0.05);
      // Symmetric but for the sampling: nothing else pulls.
      expect(Math.hypot(at[0] - 30.2, at[1] - 20.7)).toBeLessThan(0.003);
      // The rim that counts as background still stands on the spot's foot, which makes it look a seventh narrower.
      expect(widthPx! / s).toBeGreaterThan(0.85);
      expect(widthPx! / s).toBeLessThan(0.92);
      // Condon 1997 for a round spot, in white noise: √(2/π)·noise/peak, whatever its width; the background costs 2 %.
      const bound = Math.sqrt(2 / Math.PI) * (0.05 / 5);
      expect(sigmaPx / bound).toBeGreaterThan(1);
      expect(sigmaPx / bound).toBeLessThan(1.04);
    },
  );

  it("a level under everything changes neither place nor width", () => {
    const rise = hills([[30.2, 20.7, 5, 2]]);
    const lifted = createRaster(
      "K",
      width,
      height,
      rise.data.map((value) => value + 7),
    );
    const [plain, over] = [rise, lifted].map((one) => locateSource(one, framePoint(30, 21), 0.05));
    // Single precision at 12 K: 1e-6 K, against slopes of a kelvin a pixel.
    expect(Math.hypot(over!.at[0] - plain!.at[0], over!.at[1] - plain!.at[1])).toBeLessThan(1e-5);
    expect(over!.widthPx! / plain!.widthPx!).toBeCloseTo(1, 5);
  });

  it("comes to the same place from a pixel beside it, and from one it can't be told from", () => {
    const rise = hills([[30, 20, 5, 2]]);
    for (const [dx, dy] of [
      [1, 0],
      [0, -1],
      [-1, 1],
      [1.4, 0],
    ] as const) {
      const { at } = locateSource(rise, framePoint(30 + dx, 20 + dy), 0.05);
      // It ends when a step is below 1e-4 px.
      expect(Math.hypot(at[0] - 30, at[1] - 20)).toBeLessThan(1e-3);
    }
  });

  it("a peak whose centre lies elsewhere is kept as it was given, and said to be unsure", () => {
    const rise = hills([[30, 20, 5, 2]]);
    for (const [dx, dy] of [
      [2.1, 0],
      [0, -2.1],
    ] as const) {
      const peak = framePoint(30 + dx, 20 + dy);
      expect(locateSource(rise, peak, 0.05)).toEqual({
        at: peak,
        sigmaPx: LOCATE_DEFAULTS.strayedSigmaPx,
        widthPx: null,
      });
    }
  });

  it("a hill wider than the widest window has no width, and still a place", () => {
    const { at, widthPx } = locateSource(hills([[30.2, 20.7, 5, 9]]), framePoint(30, 21), 0.05);
    expect(widthPx).toBeNull();
    // No noise: what is left comes from the rim, which the frame's border cuts off unevenly.
    expect(Math.hypot(at[0] - 30.2, at[1] - 20.7)).toBeLessThan(0.01);
  });

  it("is held to the windows that it is given", () => {
    const rise = hills([[30.2, 20.7, 5, 3]]);
    const { widthPx } = locateSource(rise, framePoint(30, 21), 0.05, { maxWindowPx: 2 });
    expect(widthPx).toBeNull();
    const one = locateSource(rise, framePoint(30, 21), 0.05, { iterations: 1 });
    const all = locateSource(rise, framePoint(30, 21), 0.05);
    // One step doubles the way of a matched window; from the brightest pixel that is not yet all of it.
    expect(Math.hypot(one.at[0] - 30.2, one.at[1] - 20.7)).toBeGreaterThan(
      3 * Math.hypot(all.at[0] - 30.2, all.at[1] - 20.7),
    );
  });

  it("missing readings beside the peak move the place by less than a pixel", () => {
    const rise = hills([[30.2, 20.7, 5, 2]]);
    for (const [x, y] of [
      [31, 20],
      [31, 21],
      [28, 22],
    ] as const)
      rise.data[y * width + x] = Number.NaN;
    const { at, widthPx } = locateSource(rise, framePoint(30, 21), 0.05);
    expect(Math.hypot(at[0] - 30.2, at[1] - 20.7)).toBeLessThan(1);
    // The peak is given back, without a width, where nothing can be weighed: that is not the case here.
    expect(widthPx).not.toBeNull();
  });

  it("missing readings at the rim, which tells the background, hardly move it", () => {
    const rise = hills([[30.2, 20.7, 5, 2]]);
    for (const [x, y] of [
      [35, 20],
      [30, 26],
    ] as const)
      rise.data[y * width + x] = Number.NaN;
    const { at } = locateSource(rise, framePoint(30, 21), 0.05);
    // Two of some thirty pixels of the ring, where the spot has a twentieth of its height.
    expect(Math.hypot(at[0] - 30.2, at[1] - 20.7)).toBeLessThan(0.01);
  });

  it("the stated uncertainty grows with the noise, in proportion", () => {
    const rise = hills([[30.2, 20.7, 5, 2]]);
    const [low, high] = [0.02, 0.1].map((noise) => locateSource(rise, framePoint(30, 21), noise).sigmaPx);
    expect(high! / low!).toBeCloseTo(5, 6);
  });

  it("a small spot beside a great one keeps its own place", () => {
    // The great one is ten times higher and six widths away: none of it is left in the middle of the small one, and a
    // tenth of the small one's height at one end of the rim. The pixel that it began with is 0.45 px off.
    const rise = hills([
      [24.6, 20.3, 30, 2],
      [36.6, 22.2, 3, 2],
    ]);
    const { at } = locateSource(rise, framePoint(37, 22), 0.05);
    expect(Math.hypot(at[0] - 36.6, at[1] - 22.2)).toBeLessThan(0.05);
  });

  it("two peaks that were told apart are not given one place", () => {
    // Two spots nine pixels apart on a broad hill: each place belongs to its own peak.
    const rise = hills([
      [26, 20.3, 3, 2],
      [35, 23.4, 3, 2],
      [31, 22, 4, 9],
    ]);
    const first = locateSource(rise, framePoint(26, 20), 0.05).at;
    const second = locateSource(rise, framePoint(35, 23), 0.05).at;
    expect(Math.hypot(first[0] - 26, first[1] - 20.3)).toBeLessThan(2);
    expect(Math.hypot(second[0] - 35, second[1] - 23.4)).toBeLessThan(2);
  });

  it("a ripple on a broad hill is not placed on the hill's top", () => {
    const rise = hills([
      [30, 22, 3.2, 5.6],
      [34, 16, 0.6, 1.2],
    ]);
    const { at, sigmaPx } = locateSource(rise, framePoint(34, 16), 0.05);
    // Either it stays with the ripple, or it owns that it does not know.
    const away = Math.hypot(at[0] - 34, at[1] - 16);
    expect(away).toBeLessThan(Math.max(2, 3 * sigmaPx));
  });

  it("at the frame's edge and corner the answer stays finite and near", () => {
    for (const [x, y] of [
      [0, 0],
      [width - 1, 17],
      [25, height - 1],
    ] as const) {
      const { at, sigmaPx } = locateSource(hills([[x, y, 5, 2]]), framePoint(x, y), 0.05);
      expect(Math.hypot(at[0] - x, at[1] - y)).toBeLessThan(2);
      expect(sigmaPx).toBeGreaterThan(0);
    }
  });

  it.each([
    ["zeros", 0],
    ["no reading", Number.NaN],
  ])("where there is no spot (%s): the peak itself, as unsure as the widest window", (_, value) => {
    const nothing = createRaster("K", width, height, new Float32Array(width * height).fill(value));
    expect(locateSource(nothing, framePoint(12, 31), 0.05)).toEqual({
      at: [12, 31],
      sigmaPx: LOCATE_DEFAULTS.maxWindowPx,
      widthPx: null,
    });
  });

  it("is never less sure than the widest window", () => {
    const rise = hills([[30, 20, 0.01, 2]]);
    const { sigmaPx } = locateSource(rise, framePoint(30, 20), 100);
    expect(sigmaPx).toBe(LOCATE_DEFAULTS.maxWindowPx);
  });

  it.each([
    [57.3, 20.8, 0],
    [2.7, 20.8, width - 1],
  ])("a spot at %f, %f px takes nothing from the other side of the frame", (x, y, column) => {
    const rise = hills([[x, y, 5, 2]]);
    const peak = framePoint(Math.round(x), Math.round(y));
    const alone = locateSource(rise, peak, 0.05);
    for (let row = 0; row < height; row++) rise.data[row * width + column] = 40;
    expect(locateSource(rise, peak, 0.05)).toEqual(alone);
  });

  it("a ring wider than the first window is found by a wider one: its middle, and a width near its radius", () => {
    const away = (i: number) => Math.hypot((i % width) - 30.2, Math.floor(i / width) - 19.9);
    const values = Float32Array.from(
      { length: width * height },
      (_, i) => 5 * Math.exp(-((away(i) - 3.2) ** 2) / 2),
    );
    const rise = createRaster("K", width, height, values);
    const { at, widthPx } = locateSource(rise, framePoint(30, 20), 0.05);
    // No noise: the ring is sampled at whole pixels, a few of which make up its width.
    expect(Math.hypot(at[0] - 30.2, at[1] - 19.9)).toBeLessThan(0.05);
    // A ring's variance along each axis is half its radius squared, and its own thickness: 2.5 px; the rim lies lower.
    expect(widthPx).toBeGreaterThan(2);
    expect(widthPx).toBeLessThan(4.5);
  });
});
