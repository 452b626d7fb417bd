import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { cooledPixels } from "../../../src/sources/cooled-pixels.js";
import { makeRandom } from "../../simulate/random.js";

const [WIDTH, HEIGHT] = [60, 44];
const NOISE_K = 0.05;
/** The board leaves a margin of 6 px. */
const onBoard = Uint8Array.from({ length: WIDTH * HEIGHT }, (_, i) => {
  const [x, y] = [i % WIDTH, Math.floor(i / WIDTH)];
  return x >= 6 && x < WIDTH - 6 && y >= 6 && y < HEIGHT - 6 ? 1 : 0;
});

/** Noise, and so much more at a pixel. */
function riseOf(seed: string, more: (x: number, y: number) => number) {
  const random = makeRandom(seed);
  const data = Float32Array.from(
    { length: WIDTH * HEIGHT },
    (_, i) => NOISE_K * random.normal() + more(i % WIDTH, Math.floor(i / WIDTH)),
  );
  return createRaster("K", WIDTH, HEIGHT, data);
}

const inFace = (x: number, y: number) => x >= 20 && x < 27 && y >= 15 && y < 20;
const countIn = (out: Uint8Array, among: (x: number, y: number) => boolean) =>
  out.reduce((sum, one, i) => sum + (one === 1 && among(i % WIDTH, Math.floor(i / WIDTH)) ? 1 : 0), 0);

describe("cooledPixels", () => {
  it("nothing has cooled where there is noise alone, nor off the board", () => {
    const cold = riseOf("off", (x) => (x < 6 ? -5 : 0));
    expect(countIn(cooledPixels(cold, onBoard), () => true)).toBe(0);
  });

  it("a face cooler by three times one pixel's noise is left out whole, and two or three pixels around it", () => {
    const out = cooledPixels(
      riseOf("face", (x, y) => (inFace(x, y) ? -3 * NOISE_K : 0)),
      onBoard,
    );
    expect(countIn(out, inFace)).toBeGreaterThan(0.9 * 35);
    const far = (x: number, y: number) => x < 15 || x >= 32 || y < 10 || y >= 25;
    expect(countIn(out, far)).toBe(0);
  });

  it("a single pixel far below is left out with what the optics spread of it", () => {
    const out = cooledPixels(
      riseOf("pixel", (x, y) => (x === 40 && y === 30 ? -12 * NOISE_K : 0)),
      onBoard,
    );
    expect(out[30 * WIDTH + 40]).toBe(1);
    expect(countIn(out, (x, y) => Math.hypot(x - 40, y - 30) > 4.5)).toBe(0);
  });

  it("heat over half of the board makes no cold out of the other half", () => {
    const hill = riseOf("hill", (x, y) => 4 * Math.exp(-((x - 14) ** 2 + (y - 22) ** 2) / 500));
    expect(countIn(cooledPixels(hill, onBoard), () => true)).toBe(0);
  });

  it("a hole without readings is no cold", () => {
    const rise = riseOf("hole", () => 0);
    for (let y = 12; y < 20; y++) rise.data.fill(Number.NaN, y * WIDTH + 30, y * WIDTH + 38);
    expect(countIn(cooledPixels(rise, onBoard), () => true)).toBe(0);
  });
});
