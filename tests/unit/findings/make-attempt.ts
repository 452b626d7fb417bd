// tests: watts by part → frames of a board before and with power, and the board map and view that belong to them.
import { createRaster } from "../../../src/core/raster.js";
import { type Frame, frameFromRaster } from "../../../src/frames/frame.js";
import { makeRandom } from "../../simulate/random.js";
import { BOARD, showRise, VIEW } from "../sources/relaxed-plate.js";

export { BOARD, VIEW };

/** What an attempt is made of. */
export interface AttemptRecipe {
  readonly seed: string;
  readonly watts: Readonly<Record<string, number>>;
  readonly noiseK: number;
  /** Pattern of single pixels that stays with the sensor, K. */
  readonly patternK: number;
  readonly driftK: number;
  /** Whole pixels by which the board was nudged. */
  readonly nudgePx: readonly [number, number];
  readonly frames: number;
}

const USUAL: AttemptRecipe = Object.freeze({
  seed: "attempt",
  watts: {},
  noiseK: 0.04,
  patternK: 0.1,
  driftK: 0.2,
  nudgePx: [0, 0] as const,
  frames: 2,
});

/** Make the frames: a board 2 K warmer than the bench, parts with a contrast of their own, then heat on top. */
export function makeAttempt(recipe: Partial<AttemptRecipe>): { baseline: Frame[]; powered: Frame[] } {
  const r = { ...USUAL, ...recipe };
  const { width, height } = VIEW.frame;
  const random = makeRandom(`attempt ${r.seed}`);
  const pattern = Float64Array.from({ length: width * height }, () => r.patternK * random.normal());
  const contrasts = BOARD.regions.map((_, k) => [0.9, -0.7, 1.1, -0.8, 0.6][k]!);
  const scene = new Float64Array(width * height).map((_, i) => {
    const x = i % width;
    const y = Math.floor(i / width);
    let value = 22 + 2 * covered(x, y, BOARD.outline);
    BOARD.regions.forEach((region, k) => {
      value += contrasts[k]! * covered(x, y, region.polygon);
    });
    return value;
  });
  const rise = showRise(r.watts, 0, r.seed).data;
  const [dx, dy] = r.nudgePx;
  const frame = (powered: boolean): Frame => {
    const data = new Float32Array(width * height);
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        const u = powered ? Math.min(width - 1, Math.max(0, x - dx)) : x;
        const v = powered ? Math.min(height - 1, Math.max(0, y - dy)) : y;
        const content = scene[v * width + u]! + (powered ? rise[v * width + u]! + r.driftK : 0);
        data[y * width + x] = content + pattern[y * width + x]! + r.noiseK * random.normal();
      }
    }
    return frameFromRaster(createRaster("degC", width, height, data));
  };
  return {
    baseline: Array.from({ length: r.frames }, () => frame(false)),
    powered: Array.from({ length: r.frames }, () => frame(true)),
  };
}

/** Share of a pixel's blurred view (σ = 1 px) that a rectangle of board millimetres fills. */
function covered(x: number, y: number, polygon: readonly (readonly [number, number])[]): number {
  const [low, , high] = polygon;
  return (
    step(x, 9.3 + 2.7 * low![0], 9.3 + 2.7 * high![0]) * step(y, 14.8 + 2.7 * low![1], 14.8 + 2.7 * high![1])
  );
}

/** A logistic edge of the slope of a Gaussian's: 1/(1 + e^(−1.702·z)), within 0.01 of the normal integral. */
function step(at: number, low: number, high: number): number {
  const edge = (z: number) => 1 / (1 + Math.exp(-1.702 * z));
  return edge(at - low) - edge(at - high);
}

/** Every number in a value that JSON can't hold, with its path. */
export function badNumbers(value: unknown, path = ""): string[] {
  if (typeof value === "number") return Number.isFinite(value) ? [] : [`${path}: ${value}`];
  if (value === undefined) return [`${path}: undefined`];
  if (typeof value === "string") return /NaN|undefined|Infinity/.test(value) ? [`${path}: ${value}`] : [];
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => badNumbers(inner, `${path}.${key}`));
}
