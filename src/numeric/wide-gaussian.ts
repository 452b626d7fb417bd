// numeric: picture → the same picture smoothed by a wide Gaussian, computed on cells of several pixels.
import { gaussianFilter, gaussianKernel } from "./gaussian-filter.js";

/** Least width of the Gaussian in cells: below it the cells would show. */
const SIGMA_PER_CELL = 1.25;
/** Kernel radius in units of sigma: beyond it a thousandth of the weight lies. */
const TRUNCATE = 3.3;

/** Smooth a picture by a wide Gaussian, quickly and nearly: within 1 % of the response of the exact one.
 *  For what is taken off a picture (surroundings, level, spread heat), where the exact shape of the kernel does not
 *  matter. Pixels are summed over cells, cells smoothed, and read back between cell centres by a quadratic B-spline,
 *  whose width is the same wherever it is read; the widths of cell and spline are taken off the Gaussian's. Readings count by their weights, holes not at all; beyond
 *  the border there is nothing.
 *  @param data any unit, row-major, NaN = no reading; not modified.
 *  @param sigmaPx width of the Gaussian, px; below 2.5 px, where cells would be single pixels, the exact filter is used.
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
  const cell = Math.floor(sigmaPx / SIGMA_PER_CELL);
  if (cell < 2 && weights === null) return gaussianFilter(data, width, height, sigmaPx, { fillHoles: true });
  const side = Math.max(1, cell);
  const w = Math.ceil(width / side);
  const h = Math.ceil(height / side);
  const sums = new Float64Array(w * h);
  const counts = new Float64Array(w * h);
  sumCells(data, width, height, side, w, sums, counts, weights);
  const cellPx2 = (side * side - 1) / 12 + (side * side) / 4;
  const sigma = Math.sqrt(Math.max(0.01, sigmaPx * sigmaPx - cellPx2)) / side;
  const radius = Math.max(1, Math.ceil(TRUNCATE * sigma));
  const half = gaussianKernel(sigma, radius).subarray(radius);
  const work = new Float64Array(w * h);
  smoothLines(sums, work, w, h, 1, w, half);
  smoothLines(work, sums, h, w, w, 1, half);
  smoothLines(counts, work, w, h, 1, w, half);
  smoothLines(work, counts, h, w, w, 1, half);
  for (let i = 0; i < sums.length; i++) sums[i] = counts[i]! > 1e-9 ? sums[i]! / counts[i]! : Number.NaN;
  return readBetween(sums, w, h, side, width, height);
}

function sumCells(
  data: Float32Array,
  width: number,
  height: number,
  side: number,
  w: number,
  sums: Float64Array,
  counts: Float64Array,
  weights: Float32Array | null,
): void {
  for (let y = 0, i = 0; y < height; y++) {
    const row = Math.floor(y / side) * w;
    for (let x0 = 0, c = row; x0 < width; x0 += side, c++) {
      let sum = 0;
      let count = 0;
      for (const end = i + Math.min(side, width - x0); i < end; i++) {
        const v = data[i]!;
        const weight = weights === null ? 1 : weights[i]!;
        // Neither a hole nor something endless counts.
        if (!(v * 0 === 0) || weight === 0) continue;
        sum += weight * v;
        count += weight;
      }
      sums[c]! += sum;
      counts[c]! += count;
    }
  }
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
  const radius = half.length - 1;
  for (let line = 0; line < lines; line++) {
    const start = line * stride;
    for (let k = 0; k < length; k++) {
      let sum = half[0]! * from[start + k * step]!;
      for (let j = 1; j <= radius; j++) {
        if (k >= j) sum += half[j]! * from[start + (k - j) * step]!;
        if (k + j < length) sum += half[j]! * from[start + (k + j) * step]!;
      }
      to[start + k * step] = sum;
    }
  }
}

/** Read between cell centres by a quadratic B-spline: three cells along each axis. */
function readBetween(
  cells: Float64Array,
  w: number,
  h: number,
  side: number,
  width: number,
  height: number,
): Float32Array {
  const out = new Float32Array(width * height);
  const acrossAt = splineTaps(width, side, w);
  const downAt = splineTaps(height, side, h);
  const line = new Float64Array(w);
  for (let y = 0, i = 0; y < height; y++) {
    const upper = downAt.cells[3 * y]! * w;
    const middle = downAt.cells[3 * y + 1]! * w;
    const lower = downAt.cells[3 * y + 2]! * w;
    const a = downAt.weights[3 * y]!;
    const b = downAt.weights[3 * y + 1]!;
    const c = downAt.weights[3 * y + 2]!;
    for (let u = 0; u < w; u++) {
      line[u] = a * cells[upper + u]! + b * cells[middle + u]! + c * cells[lower + u]!;
    }
    for (let k = 0; k < 3 * width; k += 3, i++) {
      out[i] =
        acrossAt.weights[k]! * line[acrossAt.cells[k]!]! +
        acrossAt.weights[k + 1]! * line[acrossAt.cells[k + 1]!]! +
        acrossAt.weights[k + 2]! * line[acrossAt.cells[k + 2]!]!;
    }
  }
  return out;
}

/** For each pixel of a line the three cells around it and their weights; beyond the ends the last cell goes on. */
function splineTaps(
  length: number,
  side: number,
  count: number,
): { cells: Int32Array; weights: Float64Array } {
  const cells = new Int32Array(3 * length);
  const weights = new Float64Array(3 * length);
  for (let x = 0; x < length; x++) {
    const at = (x + 0.5) / side - 0.5;
    const nearest = Math.round(at);
    const t = at - nearest;
    weights[3 * x] = 0.5 * (0.5 - t) ** 2;
    weights[3 * x + 1] = 0.75 - t * t;
    weights[3 * x + 2] = 0.5 * (0.5 + t) ** 2;
    for (let k = 0; k < 3; k++) cells[3 * x + k] = Math.min(count - 1, Math.max(0, nearest + k - 1));
  }
  return { cells, weights };
}
