// rise: frames of one scene → band-passed cells, and where each frame's content lies.
import type { Raster } from "../core/raster.js";
import { type FrameSeries, seriesOf } from "../frames/frame-series.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { sharedKernels } from "../numeric/kernels.js";
import { median, quantile, robustSigma } from "../numeric/median.js";

/** Cells of the picture, band-passed: each is the mean of a square of pixels. */
export interface Cells {
  /** Pixels along the side of a cell. */
  readonly side: number;
  readonly width: number;
  readonly height: number;
  readonly count: number;
  /** The cells of a frame; of a long burst not to be kept beyond the next three calls. */
  frame(k: number): Float32Array;
}

/** Cells along the longer side: enough to see a quarter of a pixel's movement, and few enough to cost little. */
const CELLS_ACROSS = 64;
/** Gaussian widths between which detail is kept, cells: noise of single cells is finer, heat that spreads coarser. */
const FINE_CELLS = 0.7;
const COARSE_CELLS = 2.5;
/** Only the steepest cells say where the board is. */
const STEEP_SHARE = 0.3;
/** Rounds of re-weighting: the first finds the place, the second its error without what does not fit. */
const ROUNDS = 2;
/** Cells of all frames are kept up to this many bytes, and beyond it those of the last few frames. */
const MOST_KEPT_BYTES = 16 * 1024 * 1024;
const KEPT_FRAMES = 4;

/** Average frames over cells and keep the detail between two sizes.
 *  @param frames °C, one shape; not modified.
 */
export function cellsOf(frames: readonly Raster<"degC">[], mostKeptBytes = MOST_KEPT_BYTES): Cells {
  const series = seriesOf(frames);
  const side = Math.max(2, Math.round(Math.max(series.width, series.height) / CELLS_ACROSS));
  const width = Math.max(1, Math.floor(series.width / side));
  const height = Math.max(1, Math.floor(series.height / side));
  const scratch = new Float64Array(2 * width * (height + 1));
  const mean = new Float32Array(width * height);
  const coarse = new Float32Array(width * height);
  const bandPassed = (k: number, fine: Float32Array): void => {
    cellMeans(series, k, side, width, height, mean);
    gaussianFilter(mean, width, height, FINE_CELLS, { scratch, truncate: 3, out: fine });
    gaussianFilter(mean, width, height, COARSE_CELLS, { scratch, truncate: 2, out: coarse });
    for (let i = 0; i < fine.length; i++) fine[i] = fine[i]! - coarse[i]!;
  };
  const keepsAll = 4 * width * height * series.count <= mostKeptBytes;
  // The one that was asked for longest ago comes first.
  const kept = new Map<number, Float32Array>();
  return {
    side,
    width,
    height,
    count: series.count,
    frame(k) {
      let cells = kept.get(k);
      if (cells !== undefined && keepsAll) return cells;
      if (cells === undefined) {
        cells = keepsAll || kept.size < KEPT_FRAMES ? new Float32Array(width * height) : takeOldest(kept);
        bandPassed(k, cells);
      } else kept.delete(k);
      kept.set(k, cells);
      return cells;
    },
  };
}

/** Take the first list out, to be written over: lists made anew for each of ten thousand frames pile up until they are
 *  cleared away. */
function takeOldest(kept: Map<number, Float32Array>): Float32Array {
  const [oldest, cells] = kept.entries().next().value!;
  kept.delete(oldest);
  return cells;
}

/** Mean of each cell of a frame: sums over rows of pixels, one after the other. @param mean where they go. */
function cellMeans(
  series: FrameSeries,
  k: number,
  side: number,
  width: number,
  height: number,
  mean: Float32Array,
): void {
  const kernels = sharedKernels();
  if (kernels !== null) {
    const size = series.width * series.height;
    const from = kernels.take(4 * size);
    const to = kernels.take(4 * width * height);
    series.read(k, 0, kernels.floats(from, size));
    kernels.run.cellMeans(from, series.width, side, width, height, to);
    mean.set(kernels.floats(to, width * height));
    return;
  }
  const data = series.frame(k);
  mean.fill(0);
  for (let y = 0; y < height * side; y++) {
    const row = Math.floor(y / side) * width;
    for (let x = 0, at = y * series.width; x < width; x++) {
      let sum = 0;
      for (let n = 0; n < side; n++) sum += data[at++]!;
      mean[row + x]! += sum / (side * side);
    }
  }
}

/** Find the place of each frame's content relative to the mean of the first few, px, and its usual error.
 *  Method: the displacement that explains the edges best (Lucas & Kanade 1981, from memory), with Cauchy weights.
 *  Linear in the displacement: beyond a few pixels it is too short.
 */
export function placesOf({ side, width, height, count, frame }: Cells): {
  x: number[];
  y: number[];
  sigmaPx: number;
} {
  const first = Array.from({ length: Math.min(3, count) }, (_, k) => frame(k));
  const reference = first[0]!.map((_, i) => first.reduce((sum, one) => sum + one[i]!, 0) / first.length);
  const gradientX = new Float32Array(reference.length);
  const gradientY = new Float32Array(reference.length);
  const steepness = new Float32Array(reference.length);
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      const i = y * width + x;
      gradientX[i] = (reference[i + 1]! - reference[i - 1]!) / 2;
      gradientY[i] = (reference[i + width]! - reference[i - width]!) / 2;
      steepness[i] = Math.hypot(gradientX[i]!, gradientY[i]!);
    }
  }
  const limit = quantile(steepness, 1 - STEEP_SHARE);
  const steep = Int32Array.from(steepness.keys()).filter((i) => steepness[i]! > limit);
  const edges: Edges = {
    steep,
    gradientX: Float64Array.from(steep, (i) => gradientX[i]!),
    gradientY: Float64Array.from(steep, (i) => gradientY[i]!),
    level: Float64Array.from(steep, (i) => reference[i]!),
    rest: new Float64Array(steep.length),
    scratch: new Float64Array(steep.length),
  };
  const x: number[] = [];
  const y: number[] = [];
  const sigmas: number[] = [];
  for (let k = 0; k < count; k++) {
    const place = displacement(frame(k), edges);
    x.push(side * place.x);
    y.push(side * place.y);
    sigmas.push(side * place.sigma);
  }
  return { x, y, sigmaPx: median(sigmas) };
}

/** The steepest cells of the reference, and working memory. */
interface Edges {
  readonly steep: Int32Array;
  readonly gradientX: Float64Array;
  readonly gradientY: Float64Array;
  readonly level: Float64Array;
  readonly rest: Float64Array;
  readonly scratch: Float64Array;
}

/** Displacement of a frame's content, cells, by weighted least squares on difference = −shift · gradient. */
function displacement(frame: Float32Array, edges: Edges): { x: number; y: number; sigma: number } {
  const { steep, gradientX, gradientY, level, rest, scratch } = edges;
  let x = 0;
  let y = 0;
  let sigma = Number.POSITIVE_INFINITY;
  for (let round = 0; round < ROUNDS; round++) {
    for (let n = 0; n < steep.length; n++) {
      rest[n] = frame[steep[n]!]! - level[n]! + x * gradientX[n]! + y * gradientY[n]!;
    }
    const scale = Math.max(1e-9, robustSigma(rest, scratch));
    let [xx, xy, yy, bx, by] = [0, 0, 0, 0, 0];
    for (let n = 0; n < steep.length; n++) {
      const ratio = rest[n]! / (3 * scale);
      const weight = 1 / (1 + ratio * ratio);
      const gx = gradientX[n]!;
      const gy = gradientY[n]!;
      if (!(weight > 0)) continue;
      xx += weight * gx * gx;
      xy += weight * gx * gy;
      yy += weight * gy * gy;
      bx -= weight * gx * rest[n]!;
      by -= weight * gy * rest[n]!;
    }
    const determinant = xx * yy - xy * xy;
    if (!(determinant > 1e-12 * xx * yy)) return { x: 0, y: 0, sigma: Number.POSITIVE_INFINITY };
    x += (yy * bx - xy * by) / determinant;
    y += (xx * by - xy * bx) / determinant;
    sigma = scale * Math.sqrt((xx + yy) / (2 * determinant));
  }
  return { x, y, sigma };
}
