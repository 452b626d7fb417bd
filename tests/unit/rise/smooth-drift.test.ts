import { describe, expect, it } from "vitest";
import { createRaster, type Raster } from "../../../src/core/raster.js";
import { removeSmoothDrift } from "../../../src/rise/smooth-drift.js";
import { makeRandom } from "../../simulate/random.js";

const width = 160;
const height = 120;
const NOISE_K = 0.05;

/** The board covers the middle of the frame, a little to the left. */
const onBoard = (x: number, y: number): boolean => x >= 40 && x < 105 && y >= 35 && y < 90;
const offBoard = Uint8Array.from({ length: width * height }, (_, i) =>
  onBoard(i % width, Math.floor(i / width)) ? 0 : 1,
);

const surfaceK = (x: number, y: number): number => {
  const u = (2 * x) / (width - 1) - 1;
  const v = (2 * y) / (height - 1) - 1;
  return 0.11 * u - 0.07 * v + 0.09 * u * u - 0.05 * v * v + 0.06 * u * v;
};

/** A rise with drift, heat on the board, and whatever else is asked for. */
function drifted(extraK: (x: number, y: number) => number = () => 0): Raster<"K"> {
  const random = makeRandom("smooth drift");
  return createRaster(
    "K",
    width,
    height,
    Float32Array.from({ length: width * height }, (_, i) => {
      const x = i % width;
      const y = Math.floor(i / width);
      const heatK = onBoard(x, y) ? 2.5 : 0;
      return surfaceK(x, y) + heatK + extraK(x, y) + NOISE_K * random.normal();
    }),
  );
}

/** Root mean square of what of the drift is left over the board, K. */
function leftOver(found: Raster<"K">, from: Raster<"K">): number {
  let sum = 0;
  let count = 0;
  for (let i = 0; i < found.data.length; i++) {
    const x = i % width;
    const y = Math.floor(i / width);
    if (!onBoard(x, y)) continue;
    sum += (from.data[i]! - found.data[i]! - surfaceK(x, y)) ** 2;
    count++;
  }
  return Math.sqrt(sum / count);
}

describe("removeSmoothDrift", () => {
  it("takes a surface of second order off the board, though it is measured beside it", () => {
    const rise = drifted();
    const found = removeSmoothDrift(rise, offBoard);
    // Some 450 blocks of 25 pixels: 50 mK/√25 × 1.25 each, a quarter of them counted, six terms: a few mK.
    expect(leftOver(found, rise)).toBeLessThan(0.008);
    // It was there: without, several times as much.
    expect(leftOver(rise, rise)).toBeGreaterThan(0.03);
  });

  it("a warm hand over a sixth of what lies off the board has no say", () => {
    const rise = drifted((x, y) => (x > 120 && y > 40 ? 6 : 0));
    // Twice as much as without the hand: what is left to go by lies on one side.
    expect(leftOver(removeSmoothDrift(rise, offBoard), rise)).toBeLessThan(0.015);
  });

  it("leaves noise alone where nothing drifted", () => {
    const random = makeRandom("still");
    const rise = createRaster(
      "K",
      width,
      height,
      Float32Array.from({ length: width * height }, () => NOISE_K * random.normal()),
    );
    const found = removeSmoothDrift(rise, offBoard);
    const most = found.data.reduce((a, value, i) => Math.max(a, Math.abs(value - rise.data[i]!)), 0);
    // Four times the error of the surface in the middle; the corners are less well held.
    expect(most).toBeLessThan(0.03);
  });

  it("where no board is known, or too little is seen beside it, nothing is taken off", () => {
    const rise = drifted();
    expect(removeSmoothDrift(rise, null) === rise).toBe(true);
    const few = new Uint8Array(width * height);
    // Twenty blocks of 5 × 5 pixels, where 24 are the fewest.
    for (let y = 0; y < 5; y++) few.fill(1, y * width, y * width + 100);
    expect(removeSmoothDrift(rise, few) === rise).toBe(true);
  });

  it("holes stay holes, and the input as it was", () => {
    const rise = drifted();
    rise.data[777] = Number.NaN;
    const before = Float32Array.from(rise.data);
    const found = removeSmoothDrift(rise, offBoard);
    expect(rise.data).toEqual(before);
    expect([...found.data].map((value, i) => (Number.isNaN(value) ? i : -1)).filter((i) => i >= 0)).toEqual([
      777,
    ]);
  });
});
