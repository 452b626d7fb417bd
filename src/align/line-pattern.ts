// align: frames of one sensor → the offsets of its columns and rows, which stay put when the board moves.
import type { OptionsOf, ResolvedOptions } from "../core/options.js";
import type { Raster } from "../core/raster.js";
import { evenStride } from "../numeric/even-stride.js";
import { gaussianAt, gaussianFilter } from "../numeric/gaussian-filter.js";
import { type Kernels, sharedKernels } from "../numeric/kernels.js";
import { deviationOfRanks, robustSigma, SIGMA_PER_MAD } from "../numeric/median.js";
import { subtractPixels } from "../numeric/pixel-arithmetic.js";
import { RanksByKernel } from "../numeric/ranks-by-kernel.js";
import { cellPicture } from "./cell-picture.js";

/** Defaults of `linePattern`. */
export const LINE_PATTERN_DEFAULTS = Object.freeze({
  /** Offsets are told from the scene by changing from one line to the next: what is smoother than this is left, px. */
  smoothSigmaPx: 6,
  /** A pixel this many times steeper than the frame's usual slope across the lines belongs to an edge. */
  edgeFactor: 3,
  /** Neighbouring lines with fewer pairs of pixels clear of edges than this, over all frames, are taken for alike. */
  minPairs: 12,
});

/** Offsets of columns and rows, K. */
export interface LinePattern {
  readonly columnsK: Float64Array;
  readonly rowsK: Float64Array;
}

/** Measure the offsets of the sensor's columns and rows.
 *  Each line's step to the next is the mean difference of the pixels on both sides that are clear of the scene's edges:
 *  an edge of the board that runs along a column must not be taken for that column's offset. The steps are added up,
 *  and what is smooth in the sum, which drift and scene are too, is left.
 *  @param frames °C, one shape, taken by one sensor; not modified.
 */
export function linePattern(
  frames: readonly Raster<"degC">[],
  options: OptionsOf<typeof LINE_PATTERN_DEFAULTS> = {},
): LinePattern {
  const o = { ...LINE_PATTERN_DEFAULTS, ...options };
  const { width, height } = frames[0]!;
  const columns = new Steps(width);
  const rows = new Steps(height);
  for (const frame of frames) addSteps(frame, columns, rows, o.edgeFactor);
  return { columnsK: offsetsOf(columns, o), rowsK: offsetsOf(rows, o) };
}

/** Parts of a line that must agree: an offset runs from one end to the other, a scene does not. */
const BANDS = 8;

/** Sums of differences from each line to the next, by part of the line. */
class Steps {
  readonly sums: Float64Array;
  readonly counts: Float64Array;
  constructor(readonly lines: number) {
    this.sums = new Float64Array(lines * BANDS);
    this.counts = new Float64Array(lines * BANDS);
  }
}

/** Side of the cells on which the scene's edges are looked for, px. */
const CELL = 2;
/** Gaussian width to which they are smoothed, cells. */
const SMOOTH_CELLS = 1;
/** Frames of more pixels are measured on half of them. */
const MOST_WHOLE_PIXELS = 50_000;
/** Slopes that their usual size is taken from at most. */
const SLOPE_SAMPLE = 8000;

function addSteps(frame: Raster<"degC">, columns: Steps, rows: Steps, edgeFactor: number): void {
  const { width, height, data } = frame;
  const w = Math.floor(width / CELL);
  const h = Math.floor(height / CELL);
  if (w < 3 || h < 3) return;
  // In large frames every other pixel of a line is enough for its mean.
  const every = data.length > MOST_WHOLE_PIXELS ? CELL : 1;
  const kernels = sharedKernels();
  if (kernels !== null) {
    addStepsByKernel(kernels, frame, columns, rows, edgeFactor, every);
    return;
  }
  const smooth = gaussianFilter(cellPicture(frame, CELL).data, w, h, SMOOTH_CELLS);
  const across = clearCells(smooth, w, h, 1, edgeFactor);
  const down = clearCells(smooth, w, h, w, edgeFactor);
  for (let y = 0; y < CELL * h; y += every) {
    const cell = Math.floor(y / CELL) * w;
    const band = Math.floor((y * BANDS) / height);
    for (let x = 0, i = y * width; x < Math.min(CELL * w, width - 1); x++, i++) {
      if (across[cell + (x >> 1)] === 1) addStep(columns, x * BANDS + band, data[i + 1]! - data[i]!);
    }
  }
  for (let y = 0; y < Math.min(CELL * h, height - 1); y++) {
    const cell = Math.floor(y / CELL) * w;
    for (let x = 0, i = y * width; x < CELL * w; x += every, i += every) {
      if (down[cell + (x >> 1)] !== 1) continue;
      addStep(rows, y * BANDS + Math.floor((x * BANDS) / width), data[i + width]! - data[i]!);
    }
  }
}

/** The same by the compiled kernels, to the last bit; cells and slopes stay in their memory. */
function addStepsByKernel(
  kernels: Kernels,
  { width, height, data }: Raster<"degC">,
  columns: Steps,
  rows: Steps,
  edgeFactor: number,
  every: number,
): void {
  const { run } = kernels;
  const [w, h] = [Math.floor(width / CELL), Math.floor(height / CELL)];
  const n = w * h;
  const from = kernels.put(data);
  const none = kernels.put(new Float64Array(Math.max(w, h)));
  const [cells, slope, clear] = [kernels.take(4 * n), kernels.take(4 * n), kernels.take(n)];
  run.averageCells(from, width, CELL, w, h, none, none, cells);
  const smooth = gaussianAt(kernels, cells, w, h, SMOOTH_CELLS);
  const line = kernels.take(16 * width);
  const step = evenStride(n, w, SLOPE_SAMPLE);
  const sampled = Math.ceil(n / step);
  const sample = kernels.take(4 * sampled);
  for (const [add, stride, { sums, counts }] of [
    [run.columnSteps, 1, columns],
    [run.rowSteps, w, rows],
  ] as const) {
    run.subtract(smooth + 8 * stride, smooth, n - 2 * stride, slope + 4 * stride);
    markEnds(kernels.floats(slope, n), stride, w);
    run.everyFew(slope, n, step, sample);
    const limit = edgeFactor * SIGMA_PER_MAD * deviationOfRanks(new RanksByKernel(kernels, sample, sampled));
    run.markClear(slope, n, stride, limit, clear);
    const [atSums, atCounts] = [kernels.put(sums), kernels.put(counts)];
    add(from, width, height, clear, w, h, every, BANDS, atSums, atCounts, line);
    sums.set(kernels.doubles(atSums, sums.length));
    counts.set(kernels.doubles(atCounts, counts.length));
  }
}

/** NaN where a cell has no neighbour to have a slope to. */
function markEnds(slope: Float32Array, stride: number, w: number): void {
  slope.fill(Number.NaN, 0, stride);
  slope.fill(Number.NaN, slope.length - stride);
  // From one row's end to the next row's start there is no slope.
  if (stride === 1) for (let i = 0; i < slope.length; i += w) slope[i] = slope[i + w - 1] = Number.NaN;
}

function addStep({ sums, counts }: Steps, part: number, step: number): void {
  if (!(step * 0 === 0)) return;
  sums[part]! += step;
  counts[part]!++;
}

/** 1 = neither the cell nor one beside it in the direction of `stride` is steep that way. */
function clearCells(
  smooth: Float32Array,
  w: number,
  h: number,
  stride: number,
  edgeFactor: number,
): Uint8Array {
  const slope = new Float32Array(w * h);
  slope.set(subtractPixels(smooth.subarray(2 * stride), smooth.subarray(0, -2 * stride)), stride);
  markEnds(slope, stride, w);
  const every = evenStride(slope.length, w, SLOPE_SAMPLE);
  const sample = new Float32Array(Math.ceil(slope.length / every));
  for (let k = 0, i = 0; i < slope.length; k++, i += every) sample[k] = slope[i]!;
  const limit = edgeFactor * robustSigma(sample);
  const clear = new Uint8Array(w * h);
  for (let i = 0; i < clear.length; i++) {
    let steepest = 0;
    for (let k = i - stride; k <= i + stride; k += stride) {
      const s = Math.abs(slope[k] ?? 0);
      if (s > steepest) steepest = s;
    }
    clear[i] = steepest <= limit ? 1 : 0;
  }
  return clear;
}

function offsetsOf(steps: Steps, o: ResolvedOptions<typeof LINE_PATTERN_DEFAULTS>): Float64Array {
  const { lines } = steps;
  const { means, share } = agreedSteps(steps, o.minPairs);
  const offsets = new Float64Array(lines);
  for (let k = 1; k < lines; k++) offsets[k] = offsets[k - 1]! + share * means[k - 1]!;
  const smooth = gaussianFilter(offsets, lines, 1, o.smoothSigmaPx);
  for (let k = 0; k < lines; k++) offsets[k]! -= smooth[k]!;
  return offsets;
}

/** Mean step from each line to the next, and the share of their power that the parts of the lines agree on: what the
 *  scatter of the parts explains is noise or scene.
 */
function agreedSteps(
  { sums, counts, lines }: Steps,
  minPairs: number,
): { means: Float64Array; share: number } {
  const means = new Float64Array(lines);
  const kernels = sharedKernels();
  if (kernels !== null) {
    const [from, numbers, to] = [kernels.put(sums), kernels.put(counts), kernels.put(means)];
    const out = kernels.take(16);
    kernels.run.agreedSteps(from, numbers, lines, BANDS, minPairs, to, out);
    means.set(kernels.doubles(to, lines));
    const [power, scatter] = kernels.doubles(out, 2);
    return { means, share: agreedShare(power!, scatter!) };
  }
  let power = 0;
  let scatter = 0;
  for (let k = 0; k < lines; k++) {
    let sum = 0;
    let count = 0;
    for (let i = k * BANDS; i < (k + 1) * BANDS; i++) {
      sum += sums[i]!;
      count += counts[i]!;
    }
    if (count < minPairs) continue;
    const mean = sum / count;
    let square = 0;
    let parts = 0;
    for (let i = k * BANDS; i < (k + 1) * BANDS; i++) {
      if (counts[i] === 0) continue;
      const beside = sums[i]! - counts[i]! * mean;
      square += beside * beside;
      parts++;
    }
    means[k] = mean;
    power += mean * mean;
    // Squared standard error of the mean, from parts that each count by their pixels.
    scatter += parts < 2 ? mean * mean : (square / (count * count)) * (parts / (parts - 1));
  }
  return { means, share: agreedShare(power, scatter) };
}

function agreedShare(power: number, scatter: number): number {
  return power > 0 ? Math.max(0, 1 - scatter / power) : 0;
}
