// align: one frame → what belongs to the scene and what belongs to the sensor.
import type { OptionsOf, ResolvedOptions } from "../core/options.js";
import { createRaster, type Raster } from "../core/raster.js";
import { evenStride } from "../numeric/even-stride.js";
import { gaussianAt, gaussianFilter, gaussianOfSome } from "../numeric/gaussian-filter.js";
import type { Address } from "../numeric/kernel-exports.js";
import { type Kernels, sharedKernels } from "../numeric/kernels.js";
import { quantile } from "../numeric/median.js";
import { squaredDifference } from "../numeric/pixel-arithmetic.js";
import type { LinePattern } from "./line-pattern.js";

/** Defaults of `separatePattern`. */
export const SEPARATE_PATTERN_DEFAULTS = Object.freeze({
  /** Window of the local mean and variance, px (Gaussian σ): the width of an edge under usual optics. */
  windowSigmaPx: 1.5,
  /** Share of the frame taken to be flat: its local variance is the pattern's and the noise's alone. */
  flatQuantile: 0.3,
  /** Local variance ÷ floor at which detail begins to count as scene, and from which on it does so wholly: the
   *  variance of a window of some 28 pixels scatters by a quarter; an edge kept by halves would leave its other half
   *  behind when the board moves. */
  sceneFrom: 1.5,
  sceneFull: 2.5,
});

/** Frames without any noise are made, not taken; a floor of 0.1 mK keeps ratios to it finite, K². */
const LEAST_VARIANCE_K2 = 1e-8;

/** Pixels that the floor is taken from at most: neighbours' variances are of the same pixels. */
const SAMPLE = 10_000;

/** The scene and the sensor's pattern of one frame; their sum is the frame. */
export interface SeparatedFrame {
  readonly scene: Raster<"degC">;
  readonly pattern: Raster<"K">;
  /** Share of the detail that was kept as scene, 0…1 per pixel: where it is not 0 it may hold pattern. */
  readonly sceneShare: Float32Array;
  /** Standard deviation of pattern and noise together over flat parts of the frame, K. */
  readonly patternSigmaK: number;
}

/** Separate a frame into the scene, which moves with the board, and the pattern, which stays with the sensor.
 *  Where the local variance is no more than the frame's floor the detail is taken for pattern and noise; where
 *  edges raise it, detail is kept as scene. What is put on the wrong side does little harm: the two differ only
 *  by whether they are moved with the board.
 *  Method: local statistics (Lee 1980, doi 10.1109/TPAMI.1980.4766994, from memory). Differs: Gaussian window; the
 *  floor is measured from the frame; edges are kept whole instead of in part.
 *  @param frame °C, width×height, NaN = no reading; not modified.
 *  @param lines offsets of columns and rows: sensor, wherever they are.
 *  @returns rasters of the same shape; NaN where the frame has none.
 */
export function separatePattern(
  frame: Raster<"degC">,
  lines: LinePattern,
  options: OptionsOf<typeof SEPARATE_PATTERN_DEFAULTS> = {},
): SeparatedFrame {
  const o = { ...SEPARATE_PATTERN_DEFAULTS, ...options };
  const { width, height } = frame;
  const kernels = sharedKernels();
  const parts = kernels === null ? plainParts(frame, lines, o) : partsByKernel(kernels, frame, lines, o);
  return {
    scene: createRaster("degC", width, height, parts.scene),
    pattern: createRaster("K", width, height, parts.pattern),
    sceneShare: parts.share,
    patternSigmaK: Math.sqrt(parts.floor),
  };
}

/** Measure the spread of a frame's pattern and noise alone, K, as `separatePattern` does.
 *  @param frame @param lines as there.
 */
export function patternSigma(frame: Raster<"degC">, lines: LinePattern): number {
  const o = SEPARATE_PATTERN_DEFAULTS;
  const { width, height, data } = frame;
  const kernels = sharedKernels();
  if (kernels === null) return Math.sqrt(plainParts(frame, lines, o).floor);
  const { squares } = squaresByKernel(kernels, frame, lines, o);
  const step = strideOf(data.length, width);
  return Math.sqrt(floorOf(gaussianOfSome(kernels, squares, width, height, o.windowSigmaPx, step), o));
}

type Options = ResolvedOptions<typeof SEPARATE_PATTERN_DEFAULTS>;

/** What of each pixel belongs to the scene, what to the sensor, and the share of its detail that is the scene's. */
interface Parts {
  readonly scene: Float32Array;
  readonly pattern: Float32Array;
  readonly share: Float32Array;
  /** Variance of the flat parts, K². */
  readonly floor: number;
}

function plainParts(frame: Raster<"degC">, lines: LinePattern, o: Options): Parts {
  const { width, height } = frame;
  const n = width * height;
  const data = withoutLines(frame, lines);
  const mean = gaussianFilter(data, width, height, o.windowSigmaPx);
  // Gaussian-weighted mean of the squared deviation from the local mean, K².
  const variance = gaussianFilter(squaredDifference(data, mean), width, height, o.windowSigmaPx);
  const floor = floorOf(everyFew(variance, strideOf(n, width)), o);
  const [scene, pattern, share] = [new Float32Array(n), new Float32Array(n), new Float32Array(n)];
  for (let i = 0; i < n; i++) {
    const keep = ramp(variance[i]! / floor, o.sceneFrom, o.sceneFull);
    const s = mean[i]! + keep * (data[i]! - mean[i]!);
    share[i] = keep;
    scene[i] = s;
    pattern[i] = frame.data[i]! - s;
  }
  return { scene, pattern, share, floor };
}

/** The same by the compiled kernels, to the last bit; what lies between stays in their memory. */
function partsByKernel(kernels: Kernels, frame: Raster<"degC">, lines: LinePattern, o: Options): Parts {
  const { width, height } = frame;
  const n = width * height;
  const { run } = kernels;
  const { from, data, mean, squares } = squaresByKernel(kernels, frame, lines, o);
  const variance = gaussianAt(kernels, squares, width, height, o.windowSigmaPx);
  const step = strideOf(n, width);
  const sample = kernels.take(4 * Math.ceil(n / step));
  run.everyFew(variance, n, step, sample);
  const floor = floorOf(kernels.floats(sample, Math.ceil(n / step)), o);
  // Written over what each pixel of them is made from: memory that is touched for the first time costs more than the
  // work on it.
  const [scene, pattern, share] = [data, squares, variance];
  run.keepScene(from, data, mean, variance, n, floor, o.sceneFrom, o.sceneFull, scene, pattern, share);
  return {
    scene: kernels.floats(scene, n).slice(),
    pattern: kernels.floats(pattern, n).slice(),
    share: kernels.floats(share, n).slice(),
    floor,
  };
}

/** The frame without the sensor's lines, its local mean, and its squared deviation from that, in the kernels'
 *  memory. */
function squaresByKernel(
  kernels: Kernels,
  { width, height, data: readings }: Raster<"degC">,
  { columnsK, rowsK }: LinePattern,
  { windowSigmaPx }: Options,
): { from: Address; data: Address; mean: Address; squares: Address } {
  const n = width * height;
  const [from, columns, rows] = [kernels.put(readings), kernels.put(columnsK), kernels.put(rowsK)];
  const [data, squares] = [kernels.take(4 * n), kernels.take(4 * n)];
  kernels.run.takeLines(from, width, height, columns, rows, data);
  const mean = gaussianAt(kernels, data, width, height, windowSigmaPx);
  kernels.run.squaredDifference(data, mean, n, squares);
  return { from, data, mean, squares };
}

function strideOf(pixels: number, width: number): number {
  return evenStride(pixels, width, SAMPLE);
}

function everyFew(values: Float32Array, step: number): Float32Array {
  const sample = new Float32Array(Math.ceil(values.length / step));
  for (let k = 0; k < sample.length; k++) sample[k] = values[k * step]!;
  return sample;
}

/** Variance of the flat parts of a frame, K². @param sample of its local variances, evenly taken. */
function floorOf(sample: Float32Array, { windowSigmaPx, flatQuantile }: Options): number {
  // A window of Gaussian σ averages about 4πσ² pixels; the low quantile of a variance from so few lies under it.
  const effectiveCount = 4 * Math.PI * windowSigmaPx * windowSigmaPx;
  const relativeSpread = Math.sqrt(2 / effectiveCount);
  const lowShare = Math.max(0.5, 1 - 0.52 * relativeSpread);
  const centreShare = 1 - 1 / effectiveCount;
  const measured = quantile(sample, flatQuantile) / (lowShare * centreShare);
  return Number.isFinite(measured) ? Math.max(measured, LEAST_VARIANCE_K2) : LEAST_VARIANCE_K2;
}

function withoutLines(
  { width, height, data }: Raster<"degC">,
  { columnsK, rowsK }: LinePattern,
): Float32Array {
  const out = new Float32Array(data.length);
  for (let y = 0, i = 0; y < height; y++) {
    const rowK = rowsK[y]!;
    for (let x = 0; x < width; x++, i++) out[i] = data[i]! - columnsK[x]! - rowK;
  }
  return out;
}

/** 0 below `from`, 1 above `to`, straight between. */
function ramp(value: number, from: number, to: number): number {
  return Math.min(1, Math.max(0, (value - from) / (to - from)));
}
