import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { gaussianFilter } from "../../../src/numeric/gaussian-filter.js";
import { endsSharply } from "../../../src/sources/ends-sharply.js";
import { patchFace } from "../../../src/sources/patch-face.js";

const [WIDTH, HEIGHT] = [70, 50];
const LEVEL_K = 0.4;
const everywhere = new Uint8Array(WIDTH * HEIGHT).fill(1);

/** The board's own change, and so much more at a pixel. */
const riseOf = (more: (x: number, y: number) => number) =>
  Float32Array.from({ length: WIDTH * HEIGHT }, (_, i) => LEVEL_K + more(i % WIDTH, Math.floor(i / WIDTH)));

/** Whether the face grown from the middle of the picture ends sharply. */
function judge(values: Float32Array, onBoard = everywhere): boolean {
  const rise = createRaster("K", WIDTH, HEIGHT, values);
  return endsSharply(rise, patchFace(rise, 34, 24, LEVEL_K, 6), onBoard, LEVEL_K);
}

const inFace = (x: number, y: number) => x >= 28 && x < 41 && y >= 20 && y < 29;

describe("endsSharply", () => {
  it("a face of 13 × 9 px does, seen through optics of 1.5 px and a halo of 5 %", () => {
    const face = riseOf((x, y) => (inFace(x, y) ? 2 : 0)).map((value) => value - LEVEL_K);
    const sharp = gaussianFilter(face, WIDTH, HEIGHT, 1.5);
    const halo = gaussianFilter(face, WIDTH, HEIGHT, 5);
    expect(judge(sharp.map((value, i) => LEVEL_K + 0.95 * value + 0.05 * halo[i]!))).toBe(true);
  });

  it("a hill that falls to 1/e in 6 px goes on outside the face that was grown on it", () => {
    expect(judge(riseOf((x, y) => 2 * Math.exp(-Math.hypot(x - 34, y - 24) / 6)))).toBe(false);
  });

  it("what lies off the board, or has no reading, tells nothing", () => {
    const hill = riseOf((x, y) => 2 * Math.exp(-Math.hypot(x - 34, y - 24) / 6));
    const onBoard = everywhere.map((_, i) => (inFace(i % WIDTH, Math.floor(i / WIDTH)) ? 1 : 0));
    expect(judge(hill, onBoard)).toBe(true);
    const face = riseOf((x, y) => (inFace(x, y) ? 2 : 0));
    for (let y = 0; y < HEIGHT; y++) face.fill(Number.NaN, y * WIDTH + 44, (y + 1) * WIDTH);
    expect(judge(face)).toBe(true);
  });
});
