// rise: difference picture and baseline gradient → the noise of each pixel.

import type { OptionsOf, ResolvedOptions } from "../core/options.js";
import { createRaster, type Raster } from "../core/raster.js";
import { evenStride } from "../numeric/even-stride.js";
import type { Address } from "../numeric/kernel-exports.js";
import { type Kernels, SORT_TALLY_BYTES, sharedKernels } from "../numeric/kernels.js";
import { robustSigma } from "../numeric/median.js";
import { risingOnly } from "../numeric/rising-only.js";

/** Classes of baseline gradient over which the noise is measured one by one. */
const CLASSES = 12;
/** Pixels that the spread is taken from at most: two thousand a class know their spread to 3 %. */
const SAMPLE = 20_000;
/** A class of fewer has no spread worth the name. */
const LEAST_MEMBERS = 32;

/** Defaults of `noiseByGradient`. */
export const GRADIENT_NOISE_DEFAULTS = Object.freeze({
  /** Nothing known of the alignment: edges get the spread they show. */
  shiftPx: Number.POSITIVE_INFINITY,
  /** Nothing known of the file's levels. */
  leastK: 0,
});

/** Measure the spread of a difference picture in classes of equal baseline gradient, read between class centres.
 *  Edges that a nudge did not leave quite in place are given the spread they show, but no more than the shift that is
 *  still possible would leave there: what goes beyond is heat, on a board whose parts have edges too. The noise never
 *  falls with the gradient; beyond the last class it grows in proportion to it.
 *  @param contrast K, mean zero where nothing warms, NaN = no reading; not modified.
 *  @param gradient size of the baseline's gradient, K/px, same shape; not modified.
 *  @param options.shiftPx largest shift that may be left between the frames, px.
 *  @param options.leastK least noise there can be (levels of the file), K.
 *  @returns standard deviation, K, same shape.
 */
export function noiseByGradient(
  contrast: Raster<"K">,
  gradient: Float32Array,
  options: OptionsOf<typeof GRADIENT_NOISE_DEFAULTS> = {},
): Raster<"K"> {
  const o = { ...GRADIENT_NOISE_DEFAULTS, ...options };
  const { width, height, data } = contrast;
  const kernels = sharedKernels();
  if (kernels !== null) {
    const [from, beside] = [kernels.put(data), kernels.put(gradient)];
    const at = noiseAt(kernels, from, beside, width, height, o);
    return createRaster("K", width, height, kernels.floats(at, data.length).slice());
  }
  const sample = sampleOf(data, gradient, evenStride(data.length, width, SAMPLE));
  const { centres, sigmas } = classSpreads(sample, sortIntoClasses, () => data);
  const flatK = limitSigmas(centres, sigmas, o);
  const noise = createRaster("K", width, height);
  if (sigmas.length === 0) noise.data.fill(flatK);
  else interpolate(centres, sigmas, gradient, noise.data);
  return noise;
}

/** The same by the compiled kernels, to the last bit, left in their memory.
 *  @param from where the contrast lies there. @param beside where the gradient lies.
 *  @returns where the noise lies.
 */
export function noiseAt(
  kernels: Kernels,
  from: Address,
  beside: Address,
  width: number,
  height: number,
  options: OptionsOf<typeof GRADIENT_NOISE_DEFAULTS> = {},
): Address {
  const n = width * height;
  const to = kernels.take(4 * n);
  const sample = sampleAt(kernels, from, beside, n, evenStride(n, width, SAMPLE));
  const { centres, sigmas } = classSpreads(
    sample,
    (...lists) => sortByKernel(kernels, ...lists),
    () => kernels.floats(from, n).slice(),
  );
  const flatK = limitSigmas(centres, sigmas, { ...GRADIENT_NOISE_DEFAULTS, ...options });
  if (sigmas.length === 0) kernels.floats(to, n).fill(flatK);
  else {
    const [atCentres, atSigmas] = [kernels.put(centres), kernels.put(sigmas)];
    const table = kernels.take(48 * centres.length);
    const growth = growthBeyond(centres, sigmas);
    kernels.run.readClasses(atCentres, atSigmas, centres.length, growth, beside, n, table, to);
  }
  kernels.giveBack(to + 4 * n);
  return to;
}

/** Hold each class to what a shift can leave there, and to no less than the flatter ones; gives the least noise of
 *  all. */
function limitSigmas(
  centres: Float64Array,
  sigmas: Float64Array,
  { shiftPx, leastK }: ResolvedOptions<typeof GRADIENT_NOISE_DEFAULTS>,
): number {
  // A running maximum would be too high by as much as the classes' spreads scatter.
  sigmas.set(risingOnly(sigmas));
  const flatK = Math.max(leastK, sigmas[0] ?? 0);
  for (let k = 0; k < sigmas.length; k++) {
    const most = flatK + shiftPx * Math.max(1e-12, centres[k]! - centres[0]!);
    sigmas[k] = Math.max(flatK, sigmas[k - 1] ?? 0, Math.min(sigmas[k]!, most));
  }
  return flatK;
}

/** Contrast and gradient of some pixels, and the gradients in rising order. */
interface Sample {
  readonly values: Float32Array;
  readonly slopes: Float32Array;
  readonly rising: Float32Array;
}

/** Middle gradient and spread of the contrast, class by class, flattest first.
 *  @param sort as `sortIntoClasses`. @param all the whole contrast, where no class has members enough.
 */
function classSpreads(
  { values, slopes, rising }: Sample,
  sort: typeof sortIntoClasses,
  all: () => Float32Array,
): { centres: Float64Array; sigmas: Float64Array } {
  const known = values.length;
  const ends = classEnds(rising);
  // One stretch a class, in the order of the classes.
  const members = new Float32Array(known);
  const next = [0, ...ends].slice(0, CLASSES);
  const limits = Float64Array.from({ length: CLASSES - 1 }, (_, k) => rising[ends[k]! - 1] ?? Number.NaN);
  sort(values, slopes, limits, Int32Array.from(next), members);
  const centres: number[] = [];
  const sigmas: number[] = [];
  const scratch = new Float64Array(known);
  for (let k = 0; k < CLASSES; k++) {
    const from = ends[k - 1] ?? 0;
    if (ends[k]! - from < LEAST_MEMBERS) continue;
    centres.push(rising[(from + ends[k]!) >> 1]!);
    sigmas.push(robustSigma(members.subarray(from, ends[k]!), scratch));
  }
  if (sigmas.length === 0) {
    const spread = robustSigma(all());
    if (Number.isFinite(spread)) {
      centres.push(0);
      sigmas.push(spread);
    }
  }
  return { centres: Float64Array.from(centres), sigmas: Float64Array.from(sigmas) };
}

/** An even sample of the pixels with a reading. */
function sampleOf(data: Float32Array, gradient: Float32Array, stride: number): Sample {
  const size = Math.ceil(data.length / stride);
  const values = new Float32Array(size);
  const slopes = new Float32Array(size);
  let known = 0;
  for (let i = 0; i < data.length; i += stride) {
    values[known] = data[i]!;
    slopes[known] = gradient[i]!;
    if (data[i]! * 0 === 0) known++;
  }
  return {
    values: values.subarray(0, known),
    slopes: slopes.subarray(0, known),
    rising: slopes.slice(0, known).sort(),
  };
}

function sampleAt(kernels: Kernels, from: Address, beside: Address, n: number, stride: number): Sample {
  const size = Math.ceil(n / stride);
  const [to, slope] = [kernels.take(4 * size), kernels.take(4 * size)];
  const count = kernels.run.pickKnown(from, beside, n, stride, to, slope);
  const [other, tally] = [kernels.take(4 * count), kernels.take(SORT_TALLY_BYTES)];
  const values = kernels.floats(to, count).slice();
  const slopes = kernels.floats(slope, count).slice();
  const sorted = kernels.run.sortPositive(slope, count, other, tally) !== 0;
  const rising = sorted ? kernels.floats(slope, count).slice() : slopes.slice().sort();
  kernels.giveBack(to);
  return { values, slopes, rising };
}

/** @param limits slopes that end the classes but the last. @param next where each class begins; changed. @param members
 *  written. */
function sortIntoClasses(
  values: Float32Array,
  slopes: Float32Array,
  limits: Float64Array,
  next: Int32Array,
  members: Float32Array,
): void {
  for (let n = 0; n < values.length; n++) {
    const slope = slopes[n]!;
    let k = 0;
    while (k < limits.length && slope > limits[k]!) k++;
    members[next[k]!] = values[n]!;
    next[k]!++;
  }
}

function sortByKernel(kernels: Kernels, ...lists: Parameters<typeof sortIntoClasses>): void {
  const [values, slopes, limits, next, members] = lists;
  const to = kernels.take(members.byteLength);
  const [a, b, c, d] = [values, slopes, limits, next].map((numbers) => kernels.put(numbers));
  kernels.run.sortIntoClasses(a!, b!, values.length, c!, limits.length, d!, to);
  members.set(kernels.floats(to, members.length));
  kernels.giveBack(to);
}

/** Where each class ends among the slopes in rising order; equal slopes belong to one class, the first that has
 *  them. */
function classEnds(rising: Float32Array): number[] {
  const ends: number[] = [];
  for (let k = 1; k <= CLASSES; k++) {
    let end = Math.max(ends[k - 2] ?? 0, Math.floor((rising.length * k) / CLASSES));
    while (end > 0 && end < rising.length && rising[end] === rising[end - 1]) end++;
    ends.push(end);
  }
  return ends;
}

/** How the noise grows with the gradient beyond the last class. */
function growthBeyond(centres: Float64Array, sigmas: Float64Array): number {
  const last = centres.length - 1;
  return sigmas[last]! / Math.max(centres[last]!, 1e-9);
}

/** Piecewise linear through the class centres; beyond the last one it grows in proportion to the gradient. */
function interpolate(
  centres: Float64Array,
  sigmas: Float64Array,
  gradient: Float32Array,
  out: Float32Array,
): void {
  const last = centres.length - 1;
  const lowest = centres[0]!;
  const highest = centres[last]!;
  const growth = growthBeyond(centres, sigmas);
  for (let i = 0; i < out.length; i++) {
    const at = gradient[i]!;
    if (at >= highest) out[i] = Math.max(sigmas[last]!, growth * at);
    else if (at > lowest) {
      let k = 1;
      while (centres[k]! < at) k++;
      const share = (at - centres[k - 1]!) / (centres[k]! - centres[k - 1]! || 1);
      out[i] = sigmas[k - 1]! + share * (sigmas[k]! - sigmas[k - 1]!);
    } else out[i] = sigmas[0]!;
  }
}
