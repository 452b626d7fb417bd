// clean: a series of frames → noise and mean of each pixel, by the compiled kernels, to the last bit as by the plain
// code.
import type { FrameSeries } from "../frames/frame-series.js";
import { stretchesOf, type Tile, tilesOf } from "../frames/series-tiles.js";
import { type Kernels, sharedKernels } from "../numeric/kernels.js";

/** What is found of each pixel; filled in. */
export interface Averages {
  readonly noise: Float32Array;
  readonly mean: Float32Array;
  readonly count: Uint32Array;
}

/** Common offset of each frame, and what is put back into the mean, K. */
export interface Offsets {
  readonly offsetsK: Float64Array;
  readonly meanOffset: number;
}

/** Works out one pixel by the plain code: `pixel` in the stack, `index` in the raster. */
export type PlainPixel = (stack: readonly Float32Array[], pixel: number, index: number) => void;

/** A kernel writes up to so many pixels beyond the last one. */
const LANES = 8;
/** What the sums of a pixel take between two stretches of frames. */
const STATE_BYTES = 24;
/** Readings of pixels that lack one, of frames in a store, are gathered in so much memory. */
const GATHERED_BYTES = 2 * 1024 * 1024;

/** Work out each pixel: by the kernels where there are any, else by the plain code. */
export function eachPixel(
  series: FrameSeries,
  plain: PlainPixel,
  byKernel: (kernels: Kernels) => void,
): void {
  const kernels = sharedKernels();
  if (kernels !== null) {
    byKernel(kernels);
    return;
  }
  for (const { start, size, stack } of series.blocks()) {
    for (let p = 0; p < size; p++) plain(stack, p, start + p);
  }
}

/** Noise from successive frames, and the mean of all readings.
 *  @param plain for pixels that lack a reading.
 */
export function successiveByKernel(
  kernels: Kernels,
  series: FrameSeries,
  { offsetsK, meanOffset }: Offsets,
  out: Averages,
  plain: PlainPixel,
): void {
  const room = series.width * series.height + LANES;
  const offsets = kernels.put(offsetsK);
  const [noise, mean, odd] = [kernels.take(4 * room), kernels.take(4 * room), kernels.take(room)];
  const { count: of } = series;
  const stretches = stretchesOf(kernels, series);
  const state = kernels.take(STATE_BYTES * stretches.waiting);
  for (const { start, size, at, stride, from, count } of stretches) {
    kernels.run.successive(at, stride, from, count, of, size, offsets, meanOffset, state, noise, mean, odd);
    if (from + count < of) continue;
    out.noise.set(kernels.floats(noise, size), start);
    out.mean.set(kernels.floats(mean, size), start);
    out.count.fill(of, start, start + size);
    askApart(series, start, kernels.bytes(odd, size), plain);
  }
}

/** The mean where no reading can be an outlier.
 *  @param limitK outliers are further than this from their pixel's median.
 *  @param plain for pixels where one can be, and for those that lack a reading.
 */
export function steadyMeanByKernel(
  kernels: Kernels,
  series: FrameSeries,
  { offsetsK, meanOffset }: Offsets,
  limitK: number,
  out: Averages,
  plain: PlainPixel,
): void {
  const room = series.width * series.height + LANES;
  const offsets = kernels.put(offsetsK);
  const [mean, odd] = [kernels.take(4 * room), kernels.take(room)];
  for (const tile of tilesOf(kernels, series)) {
    const { start, size, at, stride } = tile;
    kernels.run.steadyMean(at, stride, series.count, size, offsets, meanOffset, limitK, mean, odd);
    out.mean.set(kernels.floats(mean, size), start);
    out.count.fill(series.count, start, start + size);
    askPlain(tile, kernels.bytes(odd, size), plain);
  }
}

function askPlain({ start, stack }: Tile, odd: Uint8Array, plain: PlainPixel): void {
  let pixel = odd.indexOf(1);
  if (pixel < 0) return;
  const frames = stack();
  for (; pixel >= 0; pixel = odd.indexOf(1, pixel + 1)) plain(frames, pixel, start + pixel);
}

/** Ask the plain code where the frames do not lie in the kernels' memory side by side. @param first the first pixel of
 *  the marks. */
function askApart(series: FrameSeries, first: number, odd: Uint8Array, plain: PlainPixel): void {
  const most = series.isHeld
    ? odd.length
    : Math.max(1, Math.floor(GATHERED_BYTES / (Float32Array.BYTES_PER_ELEMENT * series.count)));
  let pixel = odd.indexOf(1);
  while (pixel >= 0) {
    const start = pixel;
    const end = 1 + odd.lastIndexOf(1, start + most - 1);
    const stack = Array.from({ length: series.count }, (_, k) =>
      piece(series, k, first + start, first + end),
    );
    for (; pixel >= 0 && pixel < end; pixel = odd.indexOf(1, pixel + 1)) {
      plain(stack, pixel - start, first + pixel);
    }
  }
}

/** Some readings of a frame that stay when the next one is asked for. */
function piece(series: FrameSeries, k: number, start: number, end: number): Float32Array {
  if (series.isHeld) return series.frame(k, start, end);
  const into = new Float32Array(end - start);
  series.read(k, start, into);
  return into;
}
