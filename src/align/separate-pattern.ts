// align: one frame → what belongs to the scene and what belongs to the sensor.
import type { OptionsOf } from "../core/options.js";
import { createRaster, type Raster } from "../core/raster.js";
import { evenStride } from "../numeric/even-stride.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { quantile } from "../numeric/median.js";
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
  const { windowSigmaPx, flatQuantile, sceneFrom, sceneFull } = { ...SEPARATE_PATTERN_DEFAULTS, ...options };
  const { width, height } = frame;
  const { columnsK, rowsK } = lines;
  const data = new Float32Array(frame.data.length);
  for (let y = 0, i = 0; y < height; y++) {
    const rowK = rowsK[y]!;
    for (let x = 0; x < width; x++, i++) data[i] = frame.data[i]! - columnsK[x]! - rowK;
  }
  const mean = gaussianFilter(data, width, height, windowSigmaPx);
  const variance = localVariance(data, mean, width, height, windowSigmaPx);
  // A window of Gaussian σ averages about 4πσ² pixels; the low quantile of a variance from so few lies under it.
  const effectiveCount = 4 * Math.PI * windowSigmaPx * windowSigmaPx;
  const relativeSpread = Math.sqrt(2 / effectiveCount);
  const lowShare = Math.max(0.5, 1 - 0.52 * relativeSpread);
  const centreShare = 1 - 1 / effectiveCount;
  const stride = evenStride(variance.length, width, SAMPLE);
  const sample = new Float32Array(Math.ceil(variance.length / stride));
  for (let k = 0; k < sample.length; k++) sample[k] = variance[k * stride]!;
  const measured = quantile(sample, flatQuantile) / (lowShare * centreShare);
  const floor = Number.isFinite(measured) ? Math.max(measured, LEAST_VARIANCE_K2) : LEAST_VARIANCE_K2;
  const scene = createRaster("degC", width, height);
  const pattern = createRaster("K", width, height);
  const sceneShare = new Float32Array(data.length);
  for (let i = 0; i < data.length; i++) {
    const v = variance[i]!;
    const keep = ramp(v / floor, sceneFrom, sceneFull);
    const s = mean[i]! + keep * (data[i]! - mean[i]!);
    sceneShare[i] = keep;
    scene.data[i] = s;
    pattern.data[i] = frame.data[i]! - s;
  }
  return { scene, pattern, sceneShare, patternSigmaK: Math.sqrt(floor) };
}

/** 0 below `from`, 1 above `to`, straight between. */
function ramp(value: number, from: number, to: number): number {
  return Math.min(1, Math.max(0, (value - from) / (to - from)));
}

/** Gaussian-weighted mean of the squared deviation from the local mean, K². */
function localVariance(
  data: Float32Array,
  mean: Float32Array,
  width: number,
  height: number,
  sigmaPx: number,
): Float32Array {
  const squared = new Float32Array(data.length);
  for (let i = 0; i < data.length; i++) {
    const d = data[i]! - mean[i]!;
    squared[i] = d * d;
  }
  return gaussianFilter(squared, width, height, sigmaPx);
}
