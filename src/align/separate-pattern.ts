// align: one frame → what belongs to the scene and what belongs to the sensor.
import type { OptionsOf } from "../core/options.js";
import { createRaster, type Raster } from "../core/raster.js";
import { evenStride } from "../numeric/even-stride.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { sharedKernels } from "../numeric/kernels.js";
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
  const { windowSigmaPx, flatQuantile, sceneFrom, sceneFull } = { ...SEPARATE_PATTERN_DEFAULTS, ...options };
  const { width, height } = frame;
  const data = withoutLines(frame, lines);
  const mean = gaussianFilter(data, width, height, windowSigmaPx);
  // Gaussian-weighted mean of the squared deviation from the local mean, K².
  const variance = gaussianFilter(squaredDifference(data, mean), width, height, windowSigmaPx);
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
  const parts = keepScene(frame.data, data, mean, variance, floor, sceneFrom, sceneFull);
  return {
    scene: createRaster("degC", width, height, parts.scene),
    pattern: createRaster("K", width, height, parts.pattern),
    sceneShare: parts.share,
    patternSigmaK: Math.sqrt(floor),
  };
}

function withoutLines(
  { width, height, data }: Raster<"degC">,
  { columnsK, rowsK }: LinePattern,
): Float32Array {
  const kernels = sharedKernels();
  if (kernels !== null) {
    const [from, columns, rows] = [kernels.put(data), kernels.put(columnsK), kernels.put(rowsK)];
    const to = kernels.take(4 * data.length);
    kernels.run.takeLines(from, width, height, columns, rows, to);
    return kernels.floats(to, data.length).slice();
  }
  const out = new Float32Array(data.length);
  for (let y = 0, i = 0; y < height; y++) {
    const rowK = rowsK[y]!;
    for (let x = 0; x < width; x++, i++) out[i] = data[i]! - columnsK[x]! - rowK;
  }
  return out;
}

/** What of each pixel belongs to the scene, what to the sensor, and the share of its detail that is the scene's. */
function keepScene(
  frame: Float32Array,
  data: Float32Array,
  mean: Float32Array,
  variance: Float32Array,
  floor: number,
  sceneFrom: number,
  sceneFull: number,
): { scene: Float32Array; pattern: Float32Array; share: Float32Array } {
  const n = data.length;
  const kernels = sharedKernels();
  if (kernels !== null) {
    const [a, b, c, d] = [frame, data, mean, variance].map((picture) => kernels.put(picture));
    const [e, f, g] = [0, 1, 2].map(() => kernels.take(4 * n));
    kernels.run.keepScene(a!, b!, c!, d!, n, floor, sceneFrom, sceneFull, e!, f!, g!);
    const [scene, pattern, share] = [e, f, g].map((at) => kernels.floats(at!, n).slice());
    return { scene: scene!, pattern: pattern!, share: share! };
  }
  const [scene, pattern, share] = [new Float32Array(n), new Float32Array(n), new Float32Array(n)];
  for (let i = 0; i < n; i++) {
    const keep = ramp(variance[i]! / floor, sceneFrom, sceneFull);
    const s = mean[i]! + keep * (data[i]! - mean[i]!);
    share[i] = keep;
    scene[i] = s;
    pattern[i] = frame[i]! - s;
  }
  return { scene, pattern, share };
}

/** 0 below `from`, 1 above `to`, straight between. */
function ramp(value: number, from: number, to: number): number {
  return Math.min(1, Math.max(0, (value - from) / (to - from)));
}
