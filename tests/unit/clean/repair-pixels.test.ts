import { describe, expect, it } from "vitest";
import { findBadPixels } from "../../../src/clean/find-bad-pixels.js";
import { repairPixels } from "../../../src/clean/repair-pixels.js";
import { createRaster } from "../../../src/core/raster.js";
import { addAt, addSpot, noisyFrame } from "./make-scene.js";

describe("repairPixels", () => {
  const ramp = createRaster(
    "degC",
    5,
    4,
    Float32Array.from({ length: 20 }, (_, i) => i),
  );

  it("gives a frame without bad pixels back itself, and finds a bad one wherever it lies and whatever its mark", () => {
    expect(repairPixels([ramp], new Uint8Array(20))).toEqual({ frames: [ramp], repaired: 0, left: 0 });
    const kinds = [1, 4, 128, 255];
    for (let i = 0; i < 19; i++) {
      // Seen from an odd place of its memory too, and of a length that four does not divide.
      const bad = new Uint8Array(new ArrayBuffer(24), i % 2, 19);
      bad[i] = kinds[i % 4]!;
      const frame = createRaster("degC", 19, 1, new Float32Array(19).fill(20));
      const { frames, repaired, left } = repairPixels([frame], bad);
      expect([frames[0] === frame, repaired + left]).toEqual([false, 1]);
    }
  });

  it("takes the median of the good neighbours, for every frame", () => {
    const bad = new Uint8Array(20);
    bad[7] = 1;
    bad[8] = 1;
    const spoilt = createRaster("degC", 5, 4, ramp.data.slice());
    spoilt.data[7] = 99;
    spoilt.data[8] = -99;
    const found = repairPixels([spoilt, ramp], bad);
    // Around 7 without 8: 1 2 3 6 11 12 13; around 8 without 7: 2 3 4 9 12 13 14.
    for (const frame of found.frames) {
      expect(frame.data[7]).toBe(6);
      expect(frame.data[8]).toBe(9);
    }
    expect(found.repaired).toBe(4);
    expect(found.left).toBe(0);
    expect(spoilt.data[7]).toBe(99);
  });

  it("reaches two pixels where the eight around give too few, and gives up where those do", () => {
    const n = Number.NaN;
    const holed = createRaster("K", 5, 3, Float32Array.of(n, n, n, 5, n, n, 1, n, 7, n, n, n, n, 9, n));
    const bad = new Uint8Array(15);
    bad[6] = 1;
    const found = repairPixels([holed], bad);
    expect(found.frames[0]?.data[6]).toBe(7);
    bad[8] = 1;
    expect(repairPixels([holed], bad).frames[0]?.data[6]).toBeNaN();
    expect(repairPixels([holed], bad).left).toBe(2);
    // What is not in the mask stays, holes too.
    expect(found.frames[0]?.data[5]).toBeNaN();
    expect(found.frames[0]?.data[13]).toBe(9);
  });

  it("finds and repairs a hot pixel and leaves the spot beside it as it was", () => {
    const baseline = noisyFrame(40, 30, 0.05, 11);
    const powered = noisyFrame(40, 30, 0.05, 12);
    const clean = createRaster("degC", 40, 30, powered.data.slice());
    addSpot(clean, 22.3, 14.1, 4, 0.6);
    addSpot(powered, 22.3, 14.1, 4, 0.6);
    for (const frame of [baseline, powered]) addAt(frame, 27, 14, 10);
    const { mask } = findBadPixels(baseline, powered);
    const [repaired] = repairPixels([powered], mask).frames;
    const expected = clean.data;
    repaired?.data.forEach((value, i) => {
      // The repaired pixel is the median of eight: their noise is 0.05 K, the slope across them 0.05 K.
      if (i === 14 * 40 + 27) expect(Math.abs(value - expected[i]!)).toBeLessThan(0.25);
      else expect(value).toBe(expected[i]);
    });
  });

  it("refuses a mask that does not fit", () => {
    expect(() => repairPixels([ramp], new Uint8Array(19))).toThrow(RangeError);
  });
});
