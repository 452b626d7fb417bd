import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { PNG } from "pngjs";
import { describe, expect, it } from "vitest";
import { averageFrames } from "../../../src/clean/average-frames.js";
import { findBadPixels } from "../../../src/clean/find-bad-pixels.js";
import { createRaster, type Raster } from "../../../src/core/raster.js";
import { median } from "../../../src/numeric/median.js";
import { sharedFolder } from "../../reference/shared-folder.js";
import { noisyFrame } from "./make-scene.js";

const width = 40;
const height = 30;

function stack(count: number, sigmaK: number, seed: number, drift = (_: number) => 0): Raster<"degC">[] {
  return Array.from({ length: count }, (_, k) => noisyFrame(width, height, sigmaK, seed + k, 24 + drift(k)));
}

describe("averageFrames", () => {
  it("one frame: itself, and nothing known of its noise", () => {
    const [frame] = stack(1, 0.05, 1);
    const found = averageFrames([frame!]);
    expect(found.mean.data).toEqual(frame!.data);
    expect(found.mean.data).not.toBe(frame!.data);
    expect(found.sigma).toBeNull();
    expect(found.frameCount).toBe(1);
    expect(found.count[7]).toBe(1);
  });

  it("one frame: a copy, or its own numbers for whoever asks for no copy", () => {
    const [only] = stack(1, 0.05, 3) as [Raster<"degC">];
    expect(averageFrames([only]).mean.data).not.toBe(only.data);
    expect(averageFrames([only], { copies: false }).mean.data).toBe(only.data);
  });

  it("one frame with a hole: no reading went into the hole", () => {
    const [frame] = stack(1, 0.05, 1);
    frame!.data[7] = Number.NaN;
    const found = averageFrames([frame!]);
    expect([...found.count.subarray(5, 9)]).toEqual([1, 1, 0, 1]);
    expect(found.mean.data[7]).toBeNaN();
  });

  it("few frames: the plain mean of each pixel", () => {
    const frames = stack(3, 0.05, 10, (k) => 0.3 * k);
    const found = averageFrames(frames);
    found.mean.data.forEach((value, i) => {
      const plain = (frames[0]!.data[i]! + frames[1]!.data[i]! + frames[2]!.data[i]!) / 3;
      // Single precision near 24.
      expect(Math.abs(value - plain)).toBeLessThan(4e-6);
    });
    expect(found.outliers).toBe(0);
  });

  it("a hole in one frame does not bring that frame's drift into the pixel", () => {
    const frames = stack(4, 0, 20, (k) => (k === 3 ? 1 : 0));
    frames[3]!.data[55] = Number.NaN;
    const found = averageFrames(frames);
    // Offsets 0 0 0 1: the mean level is a quarter up, at the holed pixel as everywhere.
    expect(found.mean.data[55]! - frames[0]!.data[55]!).toBeCloseTo(0.25, 5);
    expect(found.mean.data[56]! - frames[0]!.data[56]!).toBeCloseTo(0.25, 5);
    expect(found.count[55]).toBe(3);
    expect(Array.from(found.offsetsK)).toEqual([0, 0, 0, expect.closeTo(1, 5)]);
  });

  it("a pixel without any reading stays without", () => {
    const frames = stack(2, 0.05, 30);
    for (const frame of frames) frame.data[9] = Number.NaN;
    const found = averageFrames(frames);
    expect(found.mean.data[9]).toBeNaN();
    expect(found.sigma?.data[9]).toBeNaN();
    expect(found.count[9]).toBe(0);
  });

  it("tells the noise of one frame, whatever the frames' common drift", () => {
    const { sigma } = averageFrames(stack(32, 0.05, 40, (k) => Math.sin(k)));
    // Squares average to sigma². One pixel tells it to √(3·32−4)/(2·31) = 15 %, 1200 of them to 0.45 %; taken 4 times.
    const rms = Math.sqrt(sigma!.data.reduce((sum, value) => sum + value * value, 0) / (width * height));
    expect(Math.abs(rms / 0.05 - 1)).toBeLessThan(0.02);
  });

  it("heating during a burst is no noise", () => {
    const frames = stack(32, 0.05, 80);
    frames.forEach((frame, k) => {
      frame.data[200] = frame.data[200]! + 0.1 * k;
    });
    // 3.1 K of heating; a step of 0.1 K between frames adds (0.1)²/2 to the square: 0.087 K where 0.9 K is the scatter.
    expect(averageFrames(frames).sigma!.data[200]).toBeLessThan(0.15);
  });

  it("leaves out a reading that is out of the question, from five frames on", () => {
    for (const count of [5, 12]) {
      const frames = stack(count, 0.05, 120);
      const clean = averageFrames(frames).mean.data[77]!;
      frames[2]!.data[77] = frames[2]!.data[77]! + 8;
      const found = averageFrames(frames);
      expect(found.outliers).toBe(1);
      expect(found.count[77]).toBe(count - 1);
      // One reading of `count` fewer: a few sigma/√count.
      expect(Math.abs(found.mean.data[77]! - clean)).toBeLessThan(0.1);
      expect(found.sigma!.data[77]).toBeLessThan(0.2);
    }
    const few = stack(4, 0.05, 160);
    few[2]!.data[77] = 99;
    expect(averageFrames(few).outliers).toBe(0);
  });

  it("leaves hardly anything out of plain noise, nor of coarse levels", () => {
    const plain = averageFrames(stack(6, 0.05, 200));
    // Five sigma by the larger of two spreads: one of 1.7 million expected, 7200 drawn.
    expect(plain.outliers).toBeLessThanOrEqual(1);
    const coarse = stack(9, 0.03, 240).map((frame) =>
      createRaster(
        "degC",
        width,
        height,
        frame.data.map((value) => Math.round(value * 2) / 2),
      ),
    );
    // Half a kelvin of step at 0.03 K of noise: most pixels never change, those near a step toggle and are not wrong.
    const share = averageFrames(coarse).outliers / (9 * width * height);
    expect(share).toBeLessThan(0.01);
  });

  it("refuses frames of different sizes by number, and no frame at all", () => {
    const frames = [noisyFrame(8, 6, 0, 1), noisyFrame(8, 6, 0, 2), noisyFrame(6, 8, 0, 3)];
    expect(() => averageFrames(frames)).toThrow(/E_FRAME_SIZE.*8×6.*frame 3.*6×8/);
    expect(() => averageFrames([])).toThrow(RangeError);
  });
});

const { path: folder, missing, title } = sharedFolder("real-frames/uniform");

describe.skipIf(missing)(`a real uniform scene, 16 frames${title}`, () => {
  const countsPerK = 57.3;
  const frames = missing
    ? []
    : readdirSync(folder)
        .filter((name) => name.endsWith(".png"))
        .sort()
        .map((name) => {
          const png = PNG.sync.read(readFileSync(join(folder, name)), { skipRescale: true });
          const data = Float32Array.from(
            { length: png.width * png.height },
            (_, i) => png.data[4 * i]! / countsPerK,
          );
          return createRaster("degC", png.width, png.height, data);
        });

  it("noise as measured by others: 37 mK a pixel, 29–46 mK over pixels", () => {
    const { sigma } = averageFrames(frames);
    // 16 frames of 60, two counts of quantisation: the middle of the pixels within their range.
    expect(median(sigma!.data)).toBeGreaterThan(0.029);
    expect(median(sigma!.data)).toBeLessThan(0.046);
  });

  it("finds the few bad pixels and no more, the same ones whichever half is called powered", () => {
    const [first, second] = [averageFrames(frames.slice(0, 8)), averageFrames(frames.slice(8))];
    const found = findBadPixels(first.mean, second.mean);
    const swapped = findBadPixels(second.mean, first.mean);
    expect(found.mask).toEqual(swapped.mask);
    // "Two dead pixels, some hot ones" of 76,800.
    expect(found.counts.spike).toBeGreaterThanOrEqual(2);
    expect(found.counts.spike).toBeLessThan(20);
    expect(found.counts.change).toBeLessThan(5);
  });
});
