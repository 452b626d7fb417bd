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

/** A face of 3 × 2 px whose upper left pixel is (20, 11), in a window that begins at (17, 9); the pixels from (steps −
 *  1) to its edge have what is given from one step outwards. */
function judgeSteps(
  bySteps: readonly number[],
  more: Partial<{ faceK: number; share: number; onBoard: (x: number, y: number) => boolean }> = {},
): boolean {
  const { faceK = 2, share = 1, onBoard = () => true } = more;
  const stepsTo = (x: number, y: number) => Math.max(20 - x, 0, x - 22) + Math.max(11 - y, 0, y - 12);
  const values = riseOf((x, y) => [faceK, ...bySteps][stepsTo(x, y)] ?? 0);
  const coverage = Float32Array.from({ length: 9 * 6 }, (_, k) =>
    stepsTo(17 + (k % 9), 9 + Math.floor(k / 9)) === 0 ? share : 0.45,
  );
  const board = everywhere.map((_, i) => (onBoard(i % WIDTH, Math.floor(i / WIDTH)) ? 1 : 0));
  const rise = createRaster("K", WIDTH, HEIGHT, values);
  return endsSharply(rise, { coverage, x0: 17, y0: 9, width: 9, height: 6 }, board, LEVEL_K);
}

describe("endsSharply: what counts", () => {
  it("twelve percent of the face three and four steps away are a hill, less is none", () => {
    expect(judgeSteps([1, 1, 0.23, 0.23])).toBe(true);
    expect(judgeSteps([1, 1, 0.25, 0.25])).toBe(false);
    // Around a face of 3 × 2 px there are 18 pixels at three steps and 22 at four: the mean over both counts.
    expect(judgeSteps([1, 1, 0.5, 0])).toBe(true);
    expect(judgeSteps([1, 1, 0.55, 0])).toBe(false);
    expect(judgeSteps([1, 1, 0, 0.42])).toBe(true);
    expect(judgeSteps([1, 1, 0, 0.46])).toBe(false);
  });

  it("the blur of the face one and two steps away, and what is further off, do not", () => {
    expect(judgeSteps([2, 2, 0, 0, 0])).toBe(true);
    expect(judgeSteps([0, 0, 0, 0, 5, 5])).toBe(true);
  });

  it("the face is what is covered by half or more", () => {
    expect(judgeSteps([0, 0, 0.25, 0.25], { share: 0.5 })).toBe(false);
    // Covered by 46 %, it is no face, and where there is none nothing tells.
    expect(judgeSteps([0, 0, 0.25, 0.25], { share: 0.46 })).toBe(true);
  });

  it("what lies off the board counts neither as face nor around it", () => {
    const right = (x: number) => x >= 22;
    expect(judgeSteps([1, 1, 0.23, 0.23], { onBoard: right })).toBe(true);
    expect(judgeSteps([1, 1, 0.25, 0.25], { onBoard: right })).toBe(false);
    const around = (x: number, y: number) => x < 20 || x > 22 || y < 11 || y > 12;
    expect(judgeSteps([5, 5, 5, 5], { onBoard: around })).toBe(true);
    expect(judgeSteps([5, 5, 5, 5], { onBoard: (x, y) => !around(x, y) })).toBe(true);
  });
});
