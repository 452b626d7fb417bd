// numeric: numbers in rows → the same numbers smoothed by a Gaussian, holes and borders left out of the average.
import { convolveLine, sumColumns } from "./convolve-lines.js";
import type { Address } from "./kernel-exports.js";
import { type Kernels, sharedKernels } from "./kernels.js";
import { smoothByKernel, smoothSomeByKernel } from "./smooth-by-kernel.js";

/** How far the kernel of `gaussianFilter` reaches. */
const GAUSSIAN_DEFAULTS = Object.freeze({
  /** Kernel radius in units of sigma: what is cut off weighs 6e-5 of the kernel. The usual choice of image
   *  libraries. */
  truncate: 4,
  /** A hole stays a hole: a filled one would look like a reading. */
  fillHoles: false,
});

/** Options of `gaussianFilter`. */
export interface GaussianFilterOptions {
  /** Kernel radius in units of sigma; default 4. */
  readonly truncate?: number;
  /** Write the average of the valid neighbours into NaN pixels that have any within the kernel; default false. */
  readonly fillHoles?: boolean;
  /** Where the result goes, width×height; may be `data` itself. */
  readonly out?: Float32Array | undefined;
  /** Working memory, at least 2·width·(height + 1); saves an allocation in repeated calls. */
  readonly scratch?: Float64Array;
}

/** Up to this share of holes their weights are added up one by one. */
const FEW_HOLES = 0.1;

/** Smooth a picture by a Gaussian.
 *  NaN pixels are ignored (normalised convolution) and stay NaN unless `fillHoles`. Beyond the border there is
 *  nothing: the kernel is cut there and rescaled to sum 1, so a constant stays a constant and nothing is mirrored in.
 *  Method: separable sums in double, a ratio of sum of weighted values to sum of weights (Knutsson & Westin 1993,
 *  normalised convolution, doi 10.1109/CVPR.1993.341081; DOI from memory).
 *  @param data any unit, row-major, NaN = no reading; not modified unless it is also `options.out`.
 *  @param sigmaPx width of the Gaussian, px; 0 copies.
 *  @returns same unit and shape.
 *  @throws RangeError if sizes don't fit or sigma is negative or not finite (a fault of the caller).
 */
export function gaussianFilter(
  data: Float32Array | Float64Array,
  width: number,
  height: number,
  sigmaPx: number,
  options: GaussianFilterOptions = {},
): Float32Array {
  const { truncate, fillHoles } = { ...GAUSSIAN_DEFAULTS, ...options };
  const size = width * height;
  if (data.length !== size) throw new RangeError(`${width}×${height} does not fit ${data.length} values`);
  const out = options.out ?? new Float32Array(size);
  if (out.length !== size) throw new RangeError(`out holds ${out.length} values, not ${size}`);
  if (sigmaPx === 0) {
    out.set(data);
    return out;
  }
  const padded = size + width;
  if (options.scratch !== undefined && options.scratch.length < 2 * padded) {
    throw new RangeError(`scratch holds ${options.scratch.length} values, not ${2 * padded}`);
  }
  const radius = gaussianRadius(sigmaPx, truncate);
  const kernels = data instanceof Float32Array ? sharedKernels() : null;
  if (kernels !== null) {
    const from = kernels.put(data as Float32Array);
    out.set(kernels.floats(gaussianAt(kernels, from, width, height, sigmaPx, { truncate, fillHoles }), size));
    return out;
  }
  const half = gaussianKernel(sigmaPx, radius).subarray(radius);
  const holeCount = countHoles(data);
  const holes = holeCount > 0;
  const few = !fillHoles && holeCount <= FEW_HOLES * size;
  // A row of zeros after the last one stands for all rows outside.
  const needed = holes ? 2 * padded : padded;
  const scratch = options.scratch ?? new Float64Array(needed);
  const values = scratch.subarray(0, padded);
  values.fill(0, size);
  const line = new Float64Array(width + 2 * radius);
  const byKernel = height === 1 ? sharedKernels() : null;
  if (byKernel !== null && !holes) convolveByKernel(byKernel, data, half, values);
  else for (let y = 0; y < height; y++) smoothRow(data, y * width, width, half, line, values, holes);
  const accumulated = new Float64Array(width);
  if (!holes) {
    const weightX = weightInside(half, width);
    const weightY = weightInside(half, height);
    for (let y = 0; y < height; y++) {
      sumColumns(values, width, height, y, half, accumulated);
      scaleRow(accumulated, weightX, 1 / weightY[y]!, out, y * width);
    }
    return out;
  }
  const weights = scratch.subarray(padded, 2 * padded);
  if (few) {
    weights.fill(0);
    addMissing(data, width, height, half, line, weights);
    const weightX = weightInside(half, width);
    const weightY = weightInside(half, height);
    for (let y = 0; y < height; y++) {
      sumColumns(values, width, height, y, half, accumulated);
      scaleRowWithHoles(accumulated, weightX, weightY[y]!, weights, data, out, y * width);
    }
    return out;
  }
  weights.fill(0, size);
  for (let y = 0; y < height; y++) smoothMaskRow(data, y * width, width, half, line, weights);
  const weight = new Float64Array(width);
  for (let y = 0; y < height; y++) {
    sumColumns(values, width, height, y, half, accumulated);
    sumColumns(weights, width, height, y, half, weight);
    for (let x = 0, i = y * width; x < width; x++, i++) {
      const hole = Number.isNaN(data[i]!);
      // Below 1e-12 of the kernel nothing is left but rounding.
      out[i] = (hole && !fillHoles) || weight[x]! < 1e-12 ? Number.NaN : accumulated[x]! / weight[x]!;
    }
  }
  return out;
}

/** The same by the compiled kernels, to the last bit, left in their memory.
 *  @param from where the picture lies there, of single precision. @param sigmaPx above 0.
 *  @returns where the smoothed one lies.
 */
export function gaussianAt(
  kernels: Kernels,
  from: Address,
  width: number,
  height: number,
  sigmaPx: number,
  options: Pick<GaussianFilterOptions, "truncate" | "fillHoles"> = {},
): Address {
  const { truncate, fillHoles } = { ...GAUSSIAN_DEFAULTS, ...options };
  const size = width * height;
  const radius = gaussianRadius(sigmaPx, truncate);
  const half = gaussianKernel(sigmaPx, radius).subarray(radius);
  const holeCount = kernels.run.countMissing(from, size);
  const way = holeCount === 0 ? "none" : fillHoles ? "fill" : holeCount <= FEW_HOLES * size ? "few" : "many";
  const [inX, inY] = [weightInside(half, width), weightInside(half, height)];
  return smoothByKernel(kernels, from, half, inX, inY, way);
}

/** The same for every so many of the pixels, in reading order. @returns a copy of their values, as long as they are. */
export function gaussianOfSome(
  kernels: Kernels,
  from: Address,
  width: number,
  height: number,
  sigmaPx: number,
  step: number,
): Float32Array {
  const size = width * height;
  const some = Math.ceil(size / step);
  const to = kernels.take(4 * some);
  if (kernels.run.countMissing(from, size) > 0) {
    kernels.run.everyFew(gaussianAt(kernels, from, width, height, sigmaPx), size, step, to);
  } else {
    const radius = gaussianRadius(sigmaPx, GAUSSIAN_DEFAULTS.truncate);
    const half = gaussianKernel(sigmaPx, radius).subarray(radius);
    smoothSomeByKernel(kernels, from, half, weightInside(half, width), weightInside(half, height), step, to);
  }
  return kernels.floats(to, some).slice();
}

/** Sample a Gaussian at whole pixels and scale it to sum 1.
 *  @param sigma px, above 0. @param radius px, whole. @returns 2·radius+1 weights.
 */
export function gaussianKernel(sigma: number, radius: number): Float64Array {
  if (!(sigma > 0) || !Number.isInteger(radius) || radius < 0) {
    throw new RangeError(
      `a Gaussian kernel needs sigma above 0 and a whole radius, not ${sigma} and ${radius}`,
    );
  }
  const kernel = new Float64Array(2 * radius + 1);
  let sum = 0;
  for (let i = -radius; i <= radius; i++) {
    const weight = Math.exp((-0.5 * i * i) / (sigma * sigma));
    kernel[i + radius] = weight;
    sum += weight;
  }
  for (let i = 0; i < kernel.length; i++) kernel[i] = kernel[i]! / sum;
  return kernel;
}

/** Say by what factor `gaussianFilter` lowers the standard deviation of white noise, away from border and holes.
 *  The square root of Σg² over the two-dimensional kernel, which for a separable one is Σg² of the line.
 *  The continuous 1/(2√π·sigma) is wrong below sigma 0.7 px (by 14 % at 0.5 px).
 *  @param sigmaPx px; 0 gives 1. @param truncate as in `gaussianFilter`.
 */
export function whiteNoiseGain(sigmaPx: number, truncate: number = GAUSSIAN_DEFAULTS.truncate): number {
  if (sigmaPx === 0) return 1;
  let sum = 0;
  for (const weight of gaussianKernel(sigmaPx, gaussianRadius(sigmaPx, truncate))) sum += weight * weight;
  return sum;
}

/** How far a pixel's value is spread by `gaussianFilter`, px. */
export function gaussianReachPx(sigmaPx: number): number {
  return gaussianRadius(sigmaPx, GAUSSIAN_DEFAULTS.truncate);
}

function gaussianRadius(sigmaPx: number, truncate: number): number {
  const radius = Math.floor(truncate * sigmaPx + 0.5);
  if (!(sigmaPx > 0) || !Number.isFinite(radius) || radius < 0) {
    throw new RangeError(
      `sigma must be 0 or more and finite, truncate positive; got ${sigmaPx} and ${truncate}`,
    );
  }
  return radius;
}

// A loop in a function of its own, called row by row, has fast code after some rows; one inside a longer function has
// it only until the loop ends, each time anew.

function scaleRow(
  sums: Float64Array,
  weightX: Float64Array,
  scaleY: number,
  out: Float32Array,
  start: number,
): void {
  for (let x = 0; x < sums.length; x++) out[start + x] = (sums[x]! * scaleY) / weightX[x]!;
}

function scaleRowWithHoles(
  sums: Float64Array,
  weightX: Float64Array,
  inY: number,
  missing: Float64Array,
  data: Float32Array | Float64Array,
  out: Float32Array,
  start: number,
): void {
  for (let x = 0, i = start; x < sums.length; x++, i++) {
    const value = sums[x]! / (weightX[x]! * inY - missing[i]!);
    out[i] = Number.isNaN(data[i]!) ? Number.NaN : value;
  }
}

function countHoles(data: Float32Array | Float64Array): number {
  // Most pictures have none, which the language itself finds out faster than a loop.
  if (!data.includes(Number.NaN)) return 0;
  let count = 0;
  for (let i = 0; i < data.length; i++) if (Number.isNaN(data[i]!)) count++;
  return count;
}

/** Add to each pixel the weight of the holes around it: a few holes take less time than a mask of all pixels. A pixel
 *  with a reading keeps its own weight at least, so that nothing is lost in the difference.
 *  @param line working memory, at least width + 2·radius.
 */
function addMissing(
  data: Float32Array | Float64Array,
  width: number,
  height: number,
  half: Float64Array,
  line: Float64Array,
  missing: Float64Array,
): void {
  const radius = half.length - 1;
  const touched = new Int32Array(width);
  for (let y = 0; y < height; y++) {
    let any = false;
    for (let x = 0, i = y * width; x < width; x++, i++) {
      if (!Number.isNaN(data[i]!)) continue;
      if (!any) line.fill(0);
      any = true;
      line[radius + x]! += half[0]!;
      for (let j = 1; j <= radius; j++) {
        line[radius + x - j]! += half[j]!;
        line[radius + x + j]! += half[j]!;
      }
    }
    if (!any) continue;
    let count = 0;
    for (let x = 0; x < width; x++) if (line[radius + x]! > 0) touched[count++] = x;
    for (let row = Math.max(0, y - radius); row <= Math.min(height - 1, y + radius); row++) {
      const weight = half[Math.abs(row - y)]!;
      const start = row * width;
      for (let k = 0; k < count; k++) {
        const x = touched[k]!;
        missing[start + x]! += weight * line[radius + x]!;
      }
    }
  }
}

/** Share of the kernel that lies inside a line of `length` pixels, for each centre. */
function weightInside(half: Float64Array, length: number): Float64Array {
  const weights = new Float64Array(length);
  const radius = half.length - 1;
  // Clear of the ends all are alike.
  const inner = Math.min(length, Math.max(radius, length - radius));
  for (let i = 0; i < length; i++) {
    if (i > radius && i < inner) {
      weights[i] = weights[i - 1]!;
      continue;
    }
    let sum = half[0]!;
    for (let j = 1; j < half.length; j++) sum += half[j]! * ((i - j >= 0 ? 1 : 0) + (i + j < length ? 1 : 0));
    weights[i] = sum;
  }
  return weights;
}

/** `convolveLine` of a line without holes, by the compiled kernels: lines that are smoothed but once take longer than
 *  pictures. */
function convolveByKernel(
  kernels: Kernels,
  data: Float32Array | Float64Array,
  half: Float64Array,
  out: Float64Array,
): void {
  const radius = half.length - 1;
  const padded = new Float64Array(data.length + 2 * radius);
  padded.set(data, radius);
  const [line, weights, to] = [kernels.put(padded), kernels.put(half), kernels.take(8 * data.length)];
  kernels.run.convolveLine(line, data.length, weights, radius, to);
  out.set(kernels.doubles(to, data.length));
}

function smoothRow(
  data: Float32Array | Float64Array,
  start: number,
  width: number,
  half: Float64Array,
  line: Float64Array,
  out: Float64Array,
  holes: boolean,
): void {
  const radius = half.length - 1;
  for (let x = 0; x < width; x++) {
    const value = data[start + x]!;
    line[radius + x] = holes && Number.isNaN(value) ? 0 : value;
  }
  convolveLine(line, width, half, out, start);
}

function smoothMaskRow(
  data: Float32Array | Float64Array,
  start: number,
  width: number,
  half: Float64Array,
  line: Float64Array,
  out: Float64Array,
): void {
  const radius = half.length - 1;
  for (let x = 0; x < width; x++) line[radius + x] = Number.isNaN(data[start + x]!) ? 0 : 1;
  convolveLine(line, width, half, out, start);
}
