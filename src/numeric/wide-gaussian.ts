// numeric: picture → the same picture smoothed by a wide Gaussian, computed on cells of several pixels.
import { gaussianAt, gaussianFilter, gaussianKernel } from "./gaussian-filter.js";
import type { Address } from "./kernel-exports.js";
import { type Kernels, sharedKernels } from "./kernels.js";
import { type SplineTaps, smoothWideByKernel } from "./smooth-by-kernel.js";
import { splineTaps } from "./spline-taps.js";

/** Least width of the Gaussian in cells: below it the cells would show. */
const SIGMA_PER_CELL = 1.1;
/** Kernel radius in units of sigma: beyond it a thousandth of the weight lies. */
const TRUNCATE = 3.3;

/** Smooth a picture by a wide Gaussian, quickly and nearly.
 *  For what is taken off a picture (surroundings, level, spread heat), or measured over many pixels, where the exact
 *  shape of the kernel does not matter: what passes of white noise differs by some per cent, its width and its centre
 *  do not. Pixels are shared among the cells around them by a quadratic B-spline, the cells smoothed, and read back by
 *  the same spline; what the spline itself widens is taken off the Gaussian's width. Readings count by their weights,
 *  holes not at all; beyond the border there is nothing.
 *  @param data any unit, row-major, NaN = no reading; not modified.
 *  @param sigmaPx width of the Gaussian, px; below 2.2 px, where cells would be single pixels, and without
 *  weights the exact filter is used.
 *  @param weights weight of each pixel, 0 or more; null: all alike.
 *  @returns same unit and shape; a number wherever a reading of some weight lies within the kernel, holes included.
 */
export function wideGaussian(
  data: Float32Array,
  width: number,
  height: number,
  sigmaPx: number,
  weights: Float32Array | null = null,
): Float32Array {
  const kernels = sharedKernels();
  if (kernels !== null) {
    const from = kernels.put(data);
    const weigh = weights === null ? null : kernels.put(weights);
    return kernels.floats(wideAt(kernels, from, width, height, sigmaPx, weigh), data.length).slice();
  }
  const cell = Math.floor(sigmaPx / SIGMA_PER_CELL);
  if (cell < 2 && weights === null) return gaussianFilter(data, width, height, sigmaPx, { fillHoles: true });
  const { across, down, half } = cellsOf(width, height, sigmaPx, null);
  const w = across.count;
  const h = down.count;
  const sums = new Float64Array(w * h);
  const counts = new Float64Array(w * h);
  shareOut(data, weights, across, down, sums, counts);
  const work = new Float64Array(w * h);
  smoothLines(sums, work, w, h, 1, w, half);
  smoothLines(work, sums, h, w, w, 1, half);
  smoothLines(counts, work, w, h, 1, w, half);
  smoothLines(work, counts, h, w, w, 1, half);
  divideBy(sums, counts);
  return readBetween(sums, across, down);
}

/** The same by the compiled kernels, to the last bit, left in their memory.
 *  @param from where the picture lies there. @param weights where the weights lie; null: all alike.
 *  @returns where the smoothed picture lies.
 */
export function wideAt(
  kernels: Kernels,
  from: Address,
  width: number,
  height: number,
  sigmaPx: number,
  weights: Address | null = null,
): Address {
  if (Math.floor(sigmaPx / SIGMA_PER_CELL) < 2 && weights === null) {
    return gaussianAt(kernels, from, width, height, sigmaPx, { fillHoles: true });
  }
  const { across, down, half } = cellsOf(width, height, sigmaPx, kernels);
  return smoothWideByKernel(kernels, from, weights ?? 0, across, down, half);
}

/** How pixels are shared among cells, and the cells' kernel from its centre outwards. */
function cellsOf(
  width: number,
  height: number,
  sigmaPx: number,
  kernels: Kernels | null,
): { across: SplineTaps; down: SplineTaps; half: Float64Array } {
  const side = Math.max(1, Math.floor(sigmaPx / SIGMA_PER_CELL));
  const sigma = Math.sqrt(Math.max(0.01, (sigmaPx / side) ** 2 - 0.5));
  const radius = Math.max(1, Math.ceil(TRUNCATE * sigma));
  return {
    across: splineTaps(width, side, kernels),
    down: splineTaps(height, side, kernels),
    half: gaussianKernel(sigma, radius).subarray(radius),
  };
}

function divideBy(sums: Float64Array, counts: Float64Array): void {
  for (let i = 0; i < sums.length; i++) sums[i] = counts[i]! > 1e-9 ? sums[i]! / counts[i]! : Number.NaN;
}

/** Add each pixel to the nine cells around it. */
function shareOut(
  data: Float32Array,
  weights: Float32Array | null,
  across: SplineTaps,
  down: SplineTaps,
  sums: Float64Array,
  counts: Float64Array,
): void {
  const width = across.first.length;
  const height = down.first.length;
  const w = across.count;
  const sumLine = new Float64Array(w);
  const countLine = new Float64Array(w);
  for (let y = 0; y < height; y++) {
    sumLine.fill(0);
    countLine.fill(0);
    shareRow(data, weights, y * width, across, sumLine, countLine);
    for (let j = 0; j < 3; j++) {
      const share = down.weights[3 * y + j]!;
      const start = (down.first[y]! + j) * w;
      addLine(sumLine, share, sums, start);
      addLine(countLine, share, counts, start);
    }
  }
}

function shareRow(
  data: Float32Array,
  weights: Float32Array | null,
  start: number,
  { first, weights: taps }: SplineTaps,
  sumLine: Float64Array,
  countLine: Float64Array,
): void {
  for (let x = 0, i = start, k = 0; x < first.length; x++, i++, k += 3) {
    const value = data[i]!;
    // Neither a hole nor something endless counts.
    const weight = value * 0 === 0 ? (weights === null ? 1 : weights[i]!) : 0;
    if (weight === 0) continue;
    const c = first[x]!;
    const a0 = weight * taps[k]!;
    const a1 = weight * taps[k + 1]!;
    const a2 = weight * taps[k + 2]!;
    countLine[c]! += a0;
    countLine[c + 1]! += a1;
    countLine[c + 2]! += a2;
    sumLine[c]! += a0 * value;
    sumLine[c + 1]! += a1 * value;
    sumLine[c + 2]! += a2 * value;
  }
}

function addLine(line: Float64Array, share: number, to: Float64Array, start: number): void {
  for (let c = 0; c < line.length; c++) to[start + c]! += share * line[c]!;
}

/** Convolve `lines` lines of `length` numbers; nothing lies beyond their ends. */
function smoothLines(
  from: Float64Array,
  to: Float64Array,
  length: number,
  lines: number,
  step: number,
  stride: number,
  half: Float64Array,
): void {
  for (let line = 0; line < lines; line++) {
    const start = line * stride;
    smoothLine(from, to, start, length, step, half);
  }
}

function smoothLine(
  from: Float64Array,
  to: Float64Array,
  start: number,
  length: number,
  step: number,
  half: Float64Array,
): void {
  const radius = half.length - 1;
  for (let k = 0; k < length; k++) {
    let sum = half[0]! * from[start + k * step]!;
    for (let j = 1; j <= radius; j++) {
      if (k >= j) sum += half[j]! * from[start + (k - j) * step]!;
      if (k + j < length) sum += half[j]! * from[start + (k + j) * step]!;
    }
    to[start + k * step] = sum;
  }
}

/** Read the cells where the pixels are. */
function readBetween(cells: Float64Array, across: SplineTaps, down: SplineTaps): Float32Array {
  const width = across.first.length;
  const height = down.first.length;
  const w = across.count;
  const out = new Float32Array(width * height);
  const line = new Float64Array(w);
  for (let y = 0; y < height; y++) {
    const start = down.first[y]! * w;
    const a = down.weights[3 * y]!;
    const b = down.weights[3 * y + 1]!;
    const c = down.weights[3 * y + 2]!;
    for (let u = 0; u < w; u++) {
      line[u] = a * cells[start + u]! + b * cells[start + w + u]! + c * cells[start + 2 * w + u]!;
    }
    readRow(line, across, out, y * width);
  }
  return out;
}

function readRow(
  line: Float64Array,
  { first, weights: taps }: SplineTaps,
  out: Float32Array,
  start: number,
): void {
  for (let x = 0, i = start, k = 0; x < first.length; x++, i++, k += 3) {
    const u = first[x]!;
    out[i] = taps[k]! * line[u]! + taps[k + 1]! * line[u + 1]! + taps[k + 2]! * line[u + 2]!;
  }
}
