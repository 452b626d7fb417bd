import { describe, expect, it } from "vitest";
import { BAD_PIXEL, findBadPixels } from "../../../src/clean/find-bad-pixels.js";
import { ToolError } from "../../../src/core/errors.js";
import { createRaster, type Raster } from "../../../src/core/raster.js";
import { gaussianFilter } from "../../../src/numeric/gaussian-filter.js";
import { addAt, addSpot, noisyFrame, normalNumbers } from "./make-scene.js";

const width = 48;
const height = 36;
const sigmaK = 0.05;
const at = (x: number, y: number) => y * width + x;
const places = (mask: Uint8Array) => Array.from(mask.entries()).filter(([, kind]) => kind !== 0);

/** Two frames of one scene: the same fixed pattern, other noise. */
function pair(seed: number, patternK = 0.15): [Raster<"degC">, Raster<"degC">] {
  const pattern = noisyFrame(width, height, patternK, seed, 0);
  return [seed + 1, seed + 2].map((noiseSeed) => {
    const frame = noisyFrame(width, height, sigmaK, noiseSeed);
    pattern.data.forEach((value, i) => {
      frame.data[i] = frame.data[i]! + value;
    });
    return frame;
  }) as [Raster<"degC">, Raster<"degC">];
}

describe("findBadPixels", () => {
  it("finds nothing in noise on a fixed pattern", () => {
    for (let seed = 0; seed < 60; seed += 3) {
      const [baseline, powered] = pair(seed);
      expect(places(findBadPixels(baseline, powered).mask)).toEqual([]);
    }
  });

  it("finds a dead pixel, a hot one, one on the border and both of a pair", () => {
    const [baseline, powered] = pair(100);
    for (const frame of [baseline, powered]) {
      addAt(frame, 10, 7, -20);
      addAt(frame, 30, 21, 6);
      addAt(frame, 0, 15, 9);
      addAt(frame, 40, 5, 7);
      addAt(frame, 41, 5, 8);
    }
    const { mask, counts } = findBadPixels(baseline, powered);
    expect(places(mask).map(([i]) => i)).toEqual([at(40, 5), at(41, 5), at(10, 7), at(0, 15), at(30, 21)]);
    expect(counts).toEqual({ spike: 5, change: 0, stuck: 0, hole: 0 });
  });

  it("finds a lone spike that came or went between the roles", () => {
    const [baseline, powered] = pair(200);
    addAt(powered, 12, 30, 1.2);
    addAt(baseline, 33, 9, 1.2);
    const { mask } = findBadPixels(baseline, powered);
    expect(places(mask)).toEqual([
      [at(33, 9), BAD_PIXEL.change],
      [at(12, 30), BAD_PIXEL.change],
    ]);
  });

  it.each([0.6, 0.8, 1.2])(
    "leaves a spot of optics sigma %f px alone, wherever it is centred and however hot",
    (sigmaPx) => {
      for (let step = 0; step < 25; step++) {
        const x = 20 + 0.25 * (step % 5);
        const y = 14 + 0.25 * Math.floor(step / 5);
        for (const peakK of [1, 5, 40]) {
          const [baseline, powered] = pair(300 + 3 * step);
          addSpot(powered, x, y, peakK, sigmaPx);
          expect(places(findBadPixels(baseline, powered).mask), `${peakK} K at (${x}, ${y})`).toEqual([]);
        }
      }
    },
  );

  it("leaves a spot on the border and in the corner alone", () => {
    for (const [x, y] of [
      [0, 17],
      [47, 0],
      [21, 35],
    ] as const) {
      const [baseline, powered] = pair(400);
      addSpot(powered, x, y, 5, 0.6);
      expect(places(findBadPixels(baseline, powered).mask)).toEqual([]);
    }
  });

  it("leaves a board with parts of one pixel and up alone, seen through optics and nudged", () => {
    const normal = normalNumbers(500);
    const sharp = new Float32Array(width * height).fill(22);
    for (let part = 0; part < 60; part++) {
      const x = Math.floor(24 + 8 * normal());
      const y = Math.floor(18 + 6 * normal());
      const size = 1 + (part % 3);
      const level = 22 + 3 * normal();
      for (let dy = 0; dy < size; dy++) for (let dx = 0; dx < size; dx++) sharp[at(x + dx, y + dy)] = level;
    }
    const seen = gaussianFilter(sharp, width, height, 0.6);
    const nudged = gaussianFilter(
      sharp.map((_, i) => sharp[i - width - 1] ?? 22),
      width,
      height,
      0.6,
    );
    const baseline = createRaster(
      "degC",
      width,
      height,
      seen.map((value) => value + sigmaK * normal()),
    );
    const powered = createRaster(
      "degC",
      width,
      height,
      nudged.map((value) => value + sigmaK * normal()),
    );
    expect(places(findBadPixels(baseline, powered).mask)).toEqual([]);
  });

  it("marks holes of one or two pixels and not larger ones", () => {
    const [baseline, powered] = pair(600);
    baseline.data[at(5, 6)] = Number.NaN;
    powered.data[at(20, 9)] = Number.NaN;
    powered.data[at(21, 9)] = Number.NaN;
    for (const x of [30, 31, 32]) baseline.data[at(x, 20)] = Number.NaN;
    const { mask, counts } = findBadPixels(baseline, powered);
    expect(places(mask).map(([i]) => i)).toEqual([at(5, 6), at(20, 9), at(21, 9)]);
    expect(counts.hole).toBe(3);
  });

  it("marks a pixel that never varies in a burst, but not one at the end of the range, nor coarse levels", () => {
    const [baseline, powered] = pair(700);
    const sigma = createRaster("K", width, height, new Float32Array(width * height).fill(sigmaK));
    sigma.data[at(17, 4)] = 0;
    powered.data[at(25, 30)] = 90;
    powered.data[at(26, 30)] = 90;
    sigma.data[at(25, 30)] = 0;
    const temporal = [{ sigma, frameCount: 12 }];
    expect(findBadPixels(baseline, powered, { temporal }).counts.stuck).toBe(1);
    expect(findBadPixels(baseline, powered, { temporal }).mask[at(17, 4)]).toBe(BAD_PIXEL.stuck);
    // Three equal readings happen by chance.
    expect(findBadPixels(baseline, powered, { temporal: [{ sigma, frameCount: 3 }] }).counts.stuck).toBe(0);
    sigma.data.fill(0, 0, 200);
    expect(findBadPixels(baseline, powered, { temporal }).counts.stuck).toBe(0);
  });

  it("one step of a coarse scale is no defect", () => {
    const levels = createRaster("degC", width, height, new Float32Array(width * height).fill(25));
    const powered = createRaster("degC", width, height, levels.data.slice());
    powered.data[at(9, 9)] = 25.5;
    expect(findBadPixels(levels, powered, { stepK: 0.5 }).counts.change).toBe(0);
    expect(findBadPixels(levels, powered).counts.change).toBe(1);
  });

  it("judges spikes in one role alone if there is no other", () => {
    const [baseline] = pair(800);
    addAt(baseline, 13, 22, 8);
    expect(places(findBadPixels(baseline, null).mask)).toEqual([[at(13, 22), BAD_PIXEL.spike]]);
  });

  it("refuses frames of different sizes and leaves its input alone", () => {
    const [baseline, powered] = pair(900);
    const before = baseline.data.slice();
    findBadPixels(baseline, powered);
    expect(baseline.data).toEqual(before);
    expect(() => findBadPixels(baseline, noisyFrame(36, 48, sigmaK, 1))).toThrow(ToolError);
    expect(() => findBadPixels(baseline, noisyFrame(36, 48, sigmaK, 1))).toThrow(
      /E_FRAME_SIZE.*48×36.*36×48/,
    );
  });
});
