// tests: rectangles with blurred edges → a baseline and a powered frame whose movement is known exactly.
import { createRaster, type Raster } from "../../../src/core/raster.js";
import { gaussianFilter } from "../../../src/numeric/gaussian-filter.js";
import { normalTail } from "../../../src/numeric/normal-distribution.js";
import { makeRandom } from "../../simulate/random.js";

/** A rectangle warmer (or colder) than what is under it: x, y, width, height in px, K. */
type Box = readonly [x: number, y: number, width: number, height: number, riseK: number];

/** What a pair is made of. */
export interface PairRecipe {
  readonly seed: string;
  readonly width: number;
  readonly height: number;
  /** How the content moves: turned about the frame's centre, then shifted. */
  readonly dxPx: number;
  readonly dyPx: number;
  readonly rotationDeg: number;
  /** Contrast of the board against the bench and of the parts against the board, K. */
  readonly contrastK: number;
  /** Blur of the optics, Gaussian σ, px. */
  readonly blurPx: number;
  /** White noise of each pixel of each frame, K. */
  readonly noiseK: number;
  /** Pattern that stays with the sensor: of single pixels, and of columns, K. */
  readonly patternK: number;
  readonly columnsK: number;
  /** Heat in the powered frame only: a Gaussian spot at a place of the baseline's board, K. */
  readonly spotK: number;
  /** Warming of the whole board, seen through each part's own emissivity: strongest at one place, falling to a third at
   *  the far side, K. */
  readonly warmK: number;
  /** Change common to all pixels of the powered frame, K. */
  readonly driftK: number;
  /** Structure of the bench beside the board, which stays where it is: spread of a smooth random field, K. */
  readonly benchK: number;
}

export const STILL_BOARD: PairRecipe = Object.freeze({
  seed: "board",
  width: 128,
  height: 96,
  dxPx: 0,
  dyPx: 0,
  rotationDeg: 0,
  contrastK: 1,
  blurPx: 1.1,
  noiseK: 0.03,
  patternK: 0,
  columnsK: 0,
  spotK: 0,
  warmK: 0,
  driftK: 0,
  benchK: 0,
});

/** Render a pair. Edges are exact: a blurred rectangle is a product of normal integrals, read where each pixel's
 *  content came from, so that nothing is resampled.
 */
export function makePair(recipe: Partial<PairRecipe>): {
  baseline: Raster<"degC">;
  powered: Raster<"degC">;
  /** In the baseline's grid; 0 off the board. */
  emissivity: Float32Array;
} {
  const r = { ...STILL_BOARD, ...recipe };
  const random = makeRandom(`pair ${r.seed}`);
  const boxes = layOut(r);
  const faces = layOutFaces(r, boxes);
  const emissivity = new Float32Array(r.width * r.height);
  const columns = Array.from({ length: r.width }, () => r.columnsK * random.normal());
  const pattern = Float64Array.from({ length: r.width * r.height }, () => r.patternK * random.normal());
  const baseline = createRaster("degC", r.width, r.height);
  const powered = createRaster("degC", r.width, r.height);
  const bench = r.benchK === 0 ? null : benchField(r);
  const cover = [[...boxes[0]!.slice(0, 4), 1] as unknown as Box];
  const turn = (r.rotationDeg * Math.PI) / 180;
  const centre = [(r.width - 1) / 2, (r.height - 1) / 2] as const;
  for (let y = 0; y < r.height; y++) {
    for (let x = 0; x < r.width; x++) {
      const i = y * r.width + x;
      const sensor = columns[x]! + pattern[i]!;
      const beside = (u: number, v: number): number =>
        bench === null ? 0 : bench[i]! * (1 - scene(cover, u, v, r.blurPx));
      baseline.data[i] =
        25 + scene(boxes, x, y, r.blurPx) + beside(x, y) + sensor + r.noiseK * random.normal();
      // Content at (u, v) of the baseline is now seen at (x, y): undo the shift, then the turn.
      const a = x - centre[0] - r.dxPx;
      const b = y - centre[1] - r.dyPx;
      const u = centre[0] + a * Math.cos(turn) + b * Math.sin(turn);
      const v = centre[1] - a * Math.sin(turn) + b * Math.cos(turn);
      const heat =
        r.spotK * Math.exp(-((u - 0.62 * r.width) ** 2 + (v - 0.41 * r.height) ** 2) / (2 * 3 ** 2));
      const far2 = ((u - 0.35 * r.width) / r.width) ** 2 + ((v - 0.6 * r.height) / r.height) ** 2;
      const warming = r.warmK * Math.exp(-far2 / 0.3) * scene(faces, u, v, r.blurPx);
      const seen = 25 + scene(boxes, u, v, r.blurPx) + heat + warming + beside(u, v) + r.driftK;
      emissivity[i] = scene(faces, x, y, 0.5);
      powered.data[i] = seen + sensor + r.noiseK * random.normal();
    }
  }
  return { baseline, powered, emissivity };
}

/** Width of the bench's structure, Gaussian σ, px. */
const BENCH_SIGMA_PX = 2.5;

/** A smooth random field of the frame's size. */
function benchField(r: PairRecipe): Float32Array {
  const random = makeRandom(`bench ${r.seed}`);
  const white = Float32Array.from({ length: r.width * r.height }, () => random.normal());
  const smooth = gaussianFilter(white, r.width, r.height, BENCH_SIGMA_PX);
  // White noise keeps 1 ÷ (2 √π σ) of its spread.
  return smooth.map((value) => r.benchK * 2 * Math.sqrt(Math.PI) * BENCH_SIGMA_PX * value);
}

/** A board that fills most of the frame, and parts on it. */
function layOut(r: PairRecipe): Box[] {
  const random = makeRandom(`layout ${r.seed}`);
  const board: Box = [0.13 * r.width, 0.17 * r.height, 0.71 * r.width, 0.64 * r.height, r.contrastK];
  const parts = Array.from({ length: 9 }, (): Box => {
    const w = random.uniform(0.05, 0.14) * r.width;
    const h = random.uniform(0.06, 0.16) * r.height;
    return [
      board[0] + random.uniform(0.03, 0.92) * (board[2] - w),
      board[1] + random.uniform(0.03, 0.92) * (board[3] - h),
      w,
      h,
      random.sign() * random.uniform(0.4, 1) * r.contrastK,
    ];
  });
  return [board, ...parts];
}

/** Emissivity of the board, and what each part's own adds to it. */
function layOutFaces(r: PairRecipe, [board, ...parts]: Box[]): Box[] {
  const random = makeRandom(`faces ${r.seed}`);
  const face = (box: Box, emissivity: number): Box => [box[0], box[1], box[2], box[3], emissivity];
  return [face(board!, 0.9), ...parts.map((part) => face(part, random.uniform(-0.3, 0.05)))];
}

function scene(boxes: readonly Box[], x: number, y: number, blurPx: number): number {
  let sum = 0;
  for (const [x0, y0, w, h, rise] of boxes) {
    sum += rise * between(x, x0, x0 + w, blurPx) * between(y, y0, y0 + h, blurPx);
  }
  return sum;
}

/** Share of a Gaussian at `at` that lies between two edges. */
function between(at: number, low: number, high: number, sigma: number): number {
  return normalTail((low - at) / sigma) - normalTail((high - at) / sigma);
}
