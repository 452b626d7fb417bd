// tests: a recipe → frames of a board taken while something on it warms and cools in a rhythm.
import { createRaster, type Raster } from "../../../src/core/raster.js";
import { makeRandom } from "../../simulate/random.js";

/** What a sequence is made of. */
export interface SequenceRecipe {
  readonly seed: string;
  readonly width: number;
  readonly height: number;
  readonly frames: number;
  /** Frames before power, of the same scene and the same sensor. */
  readonly before: number;
  readonly periodFrames: number;
  /** Amplitude at the middle of a Gaussian spot, K. */
  readonly amplitudeK: number;
  readonly atPx: readonly [number, number];
  readonly spotPx: number;
  /** Heat goes as cos(2πn/period − phase), n from the first powered frame. */
  readonly phaseRad: number;
  /** Square wave of the same fundamental in place of a sine. */
  readonly square: boolean;
  readonly noiseK: number;
  /** Step of the random walk of the common offset from frame to frame, K. */
  readonly walkK: number;
  /** Whole pixels by which the board was nudged before the powered frames. */
  readonly nudgePx: readonly [number, number];
}

/** Noise as measured on an uncooled array: 37 mK per pixel (29–46 over pixels), fixed pattern 0.24 K, a mean that
 *  drifts by 0.17 K in 60 frames, which is a random walk of 22 mK a frame.
 */
export const MEASURED: SequenceRecipe = Object.freeze({
  seed: "sequence",
  width: 83,
  height: 61,
  frames: 1000,
  before: 8,
  periodFrames: 21.7,
  amplitudeK: 0,
  atPx: [47, 22] as const,
  spotPx: 3,
  phaseRad: 0.9,
  square: false,
  noiseK: 0.037,
  walkK: 0.022,
  nudgePx: [0, 0] as const,
});

/** Make the frames: a board 2 K warmer than the bench with parts of their own contrast. */
export function makeSequence(recipe: Partial<SequenceRecipe>): {
  baseline: Raster<"degC">[];
  powered: Raster<"degC">[];
} {
  const r = { ...MEASURED, ...recipe };
  const { width, height } = r;
  const size = width * height;
  const random = makeRandom(`sequence ${r.seed}`);
  // Three standard deviations of a spread of 8 % span the measured 29 to 46 mK.
  const sigmaK = Float64Array.from({ length: size }, () => r.noiseK * (1 + 0.08 * random.normal()));
  const pattern = Float64Array.from({ length: size }, () => 0.24 * random.normal());
  const parts = [
    [0.12, 0.15, 0.3, 0.3, 0.9],
    [0.36, 0.45, 0.5, 0.65, -0.8],
    [0.66, 0.12, 0.8, 0.28, 0.6],
    [0.16, 0.6, 0.24, 0.75, 1.2],
  ] as const;
  const scene = Float64Array.from({ length: size }, (_, i) => {
    const x = (i % width) / width;
    const y = Math.floor(i / width) / height;
    let value = x > 0.07 && x < 0.93 && y > 0.08 && y < 0.92 ? 24 : 22;
    for (const [left, top, right, bottom, stepK] of parts) {
      if (x >= left && x < right && y >= top && y < bottom) value += stepK;
    }
    return value;
  });
  const spot = Float64Array.from({ length: size }, (_, i) => {
    const dx = (i % width) - r.atPx[0];
    const dy = Math.floor(i / width) - r.atPx[1];
    return Math.exp(-(dx * dx + dy * dy) / (2 * r.spotPx ** 2));
  });
  let levelK = 0;
  const frame = (amountK: number, [dx, dy]: readonly [number, number]): Raster<"degC"> => {
    levelK += r.walkK * random.normal();
    const data = new Float32Array(size);
    for (let y = 0, i = 0; y < height; y++) {
      for (let x = 0; x < width; x++, i++) {
        const u = Math.min(width - 1, Math.max(0, x - dx));
        const v = Math.min(height - 1, Math.max(0, y - dy));
        const from = v * width + u;
        data[i] = scene[from]! + amountK * spot[from]! + levelK + pattern[i]! + sigmaK[i]! * random.normal();
      }
    }
    return createRaster("degC", width, height, data);
  };
  const course = (n: number): number => {
    const cos = Math.cos((2 * Math.PI * n) / r.periodFrames - r.phaseRad);
    // A square wave of height 1 has a fundamental of 4/π.
    return r.square ? (Math.PI / 4) * Math.sign(cos) : cos;
  };
  return {
    baseline: Array.from({ length: r.before }, () => frame(0, [0, 0])),
    powered: Array.from({ length: r.frames }, (_, n) => frame(r.amplitudeK * course(n), r.nudgePx)),
  };
}

/** Largest distance between the shares of values below each level and those of even spread over 0…1: above and below.
 *  Kolmogorov & Smirnov's two one-sided distances.
 */
export function unevenness(values: readonly number[]): { above: number; below: number } {
  const sorted = [...values].sort((a, b) => a - b);
  let above = 0;
  let below = 0;
  sorted.forEach((value, k) => {
    above = Math.max(above, (k + 1) / sorted.length - value);
    below = Math.max(below, value - k / sorted.length);
  });
  return { above, below };
}
