import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { cooledPixels as cooledBeyond } from "../../../src/sources/cooled-pixels.js";
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

const noiseK = new Float32Array(WIDTH * HEIGHT).fill(NOISE_K);
const cooledPixels = (rise: ReturnType<typeof riseOf>, board: Uint8Array) =>
  cooledBeyond(rise, board, noiseK);
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

  it("a quarter of a board on one level that cooled is found: the readings on the level itself count as no spread", () => {
    const inQuarter = (x: number, y: number) => x >= 6 && x < 30 && y >= 6 && y < 22;
    const level = riseOf("level", () => 0);
    level.data.forEach((_, i) => {
      level.data[i] = inQuarter(i % WIDTH, Math.floor(i / WIDTH)) ? -1 : 0;
    });
    const out = cooledPixels(level, onBoard);
    expect(countIn(out, inQuarter)).toBe(24 * 16);
    expect(countIn(out, (x, y) => x >= 36 || y >= 28)).toBe(0);
  });

  it("a hole without readings is no cold", () => {
    const rise = riseOf("hole", () => 0);
    for (let y = 12; y < 20; y++) rise.data.fill(Number.NaN, y * WIDTH + 30, y * WIDTH + 38);
    expect(countIn(cooledPixels(rise, onBoard), () => true)).toBe(0);
  });

  it("a board that warmed evenly has no cold edge and no cold corner", () => {
    const warm = riseOf("warm", () => 3);
    expect(countIn(cooledPixels(warm, onBoard), () => true)).toBe(0);
    // What was not read lies beside the board like its surroundings.
    for (let y = 0; y < HEIGHT; y++) warm.data.fill(Number.NaN, y * WIDTH, y * WIDTH + 25);
    expect(countIn(cooledPixels(warm, onBoard), () => true)).toBe(0);
  });

  it("a tongue one pixel wide has no mean of its own: what one pixel's noise tells counts there alone", () => {
    const withTongue = onBoard.map((on, i) => (Math.floor(i / WIDTH) === 22 ? 1 : on));
    // Beyond the blur of what is left out where the tongue begins.
    const outside = (x: number, y: number) => x < 3 && y === 22;
    const faint = riseOf("tongue", (x, y) => (outside(x, y) ? -2.5 * NOISE_K : 0));
    expect(countIn(cooledPixels(faint, withTongue), outside)).toBe(0);
    const strong = riseOf("tongue", (x, y) => (outside(x, y) ? -12 * NOISE_K : 0));
    expect(countIn(cooledPixels(strong, withTongue), outside)).toBe(3);
  });

  it("how much varies is asked of the board alone, of its cooler half: much off it, or without readings, changes nothing", () => {
    // A third of the board is 2 K warmer: six times the lower half's spread are 0.4 K, and 0.6 K below is cold.
    const rise = riseOf("half", (x, y) => (x >= 38 ? 2 : 0) + (x === 20 && y === 22 ? -12 * NOISE_K : 0));
    const isCold = (x: number, y: number) => Math.hypot(x - 20, y - 22) < 1.5;
    const few = onBoard.map((on, i) => (on === 1 && i % WIDTH >= 12 && i % WIDTH < 48 ? 1 : 0));
    for (const board of [onBoard, few]) {
      // Off the board a wall shimmers.
      const knownK = noiseK.map((value, i) => (board[i] === 1 ? value : 10 * value));
      const out = cooledBeyond(rise, board, knownK);
      expect(countIn(out, isCold)).toBe(9);
      expect(countIn(out, (x, y) => Math.hypot(x - 20, y - 22) > 4.5)).toBe(0);
    }
  });

  describe.each([0.25, 0.4, 0.8])(
    "levels so coarse that most are equal: a noise of %f of a step",
    (share) => {
      const stepK = NOISE_K / share;
      /** Two frames, each rounded, and what is known of their noise. */
      const stepped = (seed: string, more: (x: number, y: number) => number) => {
        const [before, after] = [riseOf(`${seed} off`, () => 0), riseOf(`${seed} on`, more)];
        const level = (value: number, i: number) =>
          Math.round((value / Math.SQRT2 + 0.001 * (i % WIDTH)) / stepK);
        const data = after.data.map((value, i) => (level(value, i) - level(before.data[i]!, i)) * stepK);
        return createRaster("K", WIDTH, HEIGHT, data);
      };
      const known = new Float32Array(WIDTH * HEIGHT).fill(Math.max(NOISE_K, stepK / Math.sqrt(6)));

      it("are no cold", () => {
        const rise = stepped("levels", () => 0);
        // Of the lower half more than a half is equal: its median depth is none.
        const equal = countIn(onBoard, (x, y) => rise.data[y * WIDTH + x] === 0);
        expect(equal).toBeGreaterThan(0.4 * countIn(onBoard, () => true));
        expect(countIn(cooledBeyond(rise, onBoard, known), () => true)).toBeLessThan(0.02 * WIDTH * HEIGHT);
      });

      it("a face that is three steps cooler is found as ever", () => {
        const out = cooledBeyond(
          stepped("face", (x, y) => (inFace(x, y) ? -3 * Math.SQRT2 * stepK : 0)),
          onBoard,
          known,
        );
        expect(countIn(out, inFace)).toBe(35);
        expect(countIn(out, (x, y) => x < 14 || x >= 33 || y < 9 || y >= 26)).toBeLessThan(
          0.02 * WIDTH * HEIGHT,
        );
      });
    },
  );
});
