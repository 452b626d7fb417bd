// clean: frames of one role → their mean, and the noise of a single frame at each pixel.
import { ToolError } from "../core/errors.js";
import type { OptionsOf } from "../core/options.js";
import { createRaster, type Raster } from "../core/raster.js";
import { type FrameSeries, seriesOf } from "../frames/frame-series.js";
import { evenStride } from "../numeric/even-stride.js";
import { median, quantile, SIGMA_PER_MAD } from "../numeric/median.js";
import { eachPixel, type PlainPixel, steadyMeanByKernel, successiveByKernel } from "./average-by-kernel.js";

/** Defaults of `averageFrames`. */
const AVERAGE_DEFAULTS = Object.freeze({
  /** A reading further from its pixel's median than this many robust sigma is left out: one in 1.7 million Gaussian
   *  ones. */
  outlierSigma: 5,
  /** With fewer frames nobody can say which reading is the odd one. */
  leastFramesForOutliers: 5,
  /** The mean of a single frame is a copy of it; else it is the frame's own numbers, which the caller then leaves as
   *  they are. */
  copies: true,
});

/** What `averageFrames` finds. */
export interface AveragedFrames {
  /** °C; NaN where no frame has a reading. */
  readonly mean: Raster<"degC">;
  /** Temporal noise of ONE frame, K; NaN where a pixel has fewer than two readings; null for a single frame.
   *  Its own relative error is about √(3n−4)/(2(n−1)): 0.71 at 2, 0.41 at 5, 0.16 at 30 frames. */
  readonly sigma: Raster<"K"> | null;
  /** Readings that went into each pixel of the mean. */
  readonly count: Uint32Array;
  readonly frameCount: number;
  /** Common offset of each frame against the first, K. */
  readonly offsetsK: Float64Array;
  /** Readings left out as outliers. */
  readonly outliers: number;
}

/** Average frames of one role, robustly.
 *  Each frame's common offset (median difference to the first frame) is taken off before and put back as its mean, so
 *  that a hole or a left-out reading does not bring the drift of the other frames into a pixel. Frames are not aligned
 *  here: they must belong to one camera position.
 *  The noise comes from differences of successive frames (von Neumann 1941, Ann. Math. Stat. 12:367; citation from
 *  memory): slow heating in a burst is no noise, and a standard deviation would count it where it matters most.
 *  @param frames °C, one shape, NaN = no reading; not modified.
 *  @param options.outlierSigma Infinity leaves no reading out.
 *  @throws ToolError E_FRAME_SIZE if shapes differ. RangeError without frames (a fault of the caller).
 */
export function averageFrames(
  frames: readonly Raster<"degC">[],
  options: OptionsOf<Pick<typeof AVERAGE_DEFAULTS, "outlierSigma" | "copies">> = {},
): AveragedFrames {
  const { outlierSigma, leastFramesForOutliers, copies } = { ...AVERAGE_DEFAULTS, ...options };
  const first = frames[0];
  if (first === undefined) throw new RangeError("there is no frame to average");
  checkShapes(frames, first);
  if (frames.length === 1) return single(first, copies);
  const { width, height } = first;
  const size = width * height;
  const series = seriesOf(frames);
  const offsetsK = commonOffsets(series);
  const meanOffset = offsetsK.reduce((sum, offset) => sum + offset, 0) / frames.length;
  const noise = new Float32Array(size);
  const mean = new Float32Array(size);
  const count = new Uint32Array(size);
  const values = new Float64Array(frames.length);

  const keepMean = (i: number, used: number): void => {
    let sum = 0;
    for (let k = 0; k < used; k++) sum += values[k]!;
    mean[i] = used === 0 ? Number.NaN : sum / used + meanOffset;
    count[i] = used;
  };
  const look: PlainPixel = (stack, p, i) => {
    const known = collect(stack, offsetsK, p, values);
    noise[i] = successiveSigma(values, known);
    keepMean(i, known);
  };
  eachPixel(series, look, (kernels) =>
    successiveByKernel(kernels, series, { offsetsK, meanOffset }, { noise, mean, count }, look),
  );
  // Outliers are told by the noise of the ordinary pixel: a second pass, where any are looked for.
  const rejects = frames.length >= leastFramesForOutliers && Number.isFinite(outlierSigma);
  const typicalSigma = rejects ? typicalNoise(noise) : 0;
  let outliers = 0;
  // Without any noise to compare with, nothing can be called an outlier.
  if (typicalSigma > 0) {
    const limitK = outlierSigma * typicalSigma;
    const scratch = new Float64Array(frames.length);
    const lookAgain: PlainPixel = (stack, p, i) => {
      const known = collect(stack, offsetsK, p, values);
      let used = known;
      if (known >= leastFramesForOutliers) {
        used = dropOutliers(values, known, outlierSigma, typicalSigma, scratch);
        if (used < known) noise[i] = spread(values, used, noise[i]!, typicalSigma);
      }
      keepMean(i, used);
      outliers += known - used;
    };
    eachPixel(series, lookAgain, (kernels) =>
      steadyMeanByKernel(
        kernels,
        series,
        { offsetsK, meanOffset },
        limitK,
        { noise, mean, count },
        lookAgain,
      ),
    );
  }
  return {
    mean: createRaster("degC", width, height, mean),
    sigma: createRaster("K", width, height, noise),
    count,
    frameCount: frames.length,
    offsetsK,
    outliers,
  };
}

/** One frame is its own mean. */
function single({ width, height, data }: Raster<"degC">, copies: boolean): AveragedFrames {
  return {
    mean: createRaster("degC", width, height, copies ? data.slice() : data),
    sigma: null,
    // Most callers don't ask.
    get count() {
      return Uint32Array.from(data, (value) => (Number.isNaN(value) ? 0 : 1));
    },
    frameCount: 1,
    offsetsK: new Float64Array(1),
    outliers: 0,
  };
}

function checkShapes(frames: readonly Raster<"degC">[], first: Raster<"degC">): void {
  frames.forEach((frame, index) => {
    if (frame.width === first.width && frame.height === first.height) return;
    throw new ToolError("E_FRAME_SIZE", {
      problem: `frame 1 is ${first.width}×${first.height} but frame ${index + 1} of the same role is ${frame.width}×${frame.height}`,
      fix: "Export all frames at the same resolution",
    });
  });
}

/** Pixels that a common offset is taken from at most: their median is good to a fiftieth of the noise. */
const OFFSET_SAMPLE = 6000;

/** Median difference of each frame to the first, 0 where they share no reading. */
function commonOffsets(series: FrameSeries): Float64Array {
  // A copy where the next frame would take its place.
  const first = series.frame(0).slice();
  const size = first.length;
  const stride = evenStride(size, series.width, OFFSET_SAMPLE);
  const difference = new Float64Array(Math.ceil(size / stride));
  const scratch = new Float64Array(difference.length);
  return Float64Array.from({ length: series.count }, (_, index) => {
    if (index === 0) return 0;
    const data = series.frame(index);
    for (let i = 0, k = 0; i < size; i += stride, k++) difference[k] = data[i]! - first[i]!;
    let offset = median(difference, scratch);
    // Where readings are few the sample may have met none of them.
    if (Number.isNaN(offset)) offset = median(data.map((value, i) => value - first[i]!));
    return Number.isNaN(offset) ? 0 : offset;
  });
}

/** Readings of one pixel without the common offsets, in the order of the frames; gives their number. */
function collect(
  stack: readonly Float32Array[],
  offsetsK: Float64Array,
  pixel: number,
  values: Float64Array,
): number {
  let known = 0;
  for (let k = 0; k < stack.length; k++) {
    const value = stack[k]![pixel]!;
    if (!Number.isNaN(value)) values[known++] = value - offsetsK[k]!;
  }
  return known;
}

/** √(Σ(next − this)² / (2·(n−1))). */
function successiveSigma(values: Float64Array, count: number): number {
  if (count < 2) return Number.NaN;
  let sum = 0;
  for (let k = 1; k < count; k++) {
    const step = values[k]! - values[k - 1]!;
    sum += step * step;
  }
  return Math.sqrt(sum / (2 * (count - 1)));
}

/** Noise of the ordinary pixel; where coarse levels hide it in most pixels, that of the noisier ones. */
function typicalNoise(noise: Float32Array): number {
  const middle = median(noise);
  return middle > 0 ? middle : quantile(noise, 0.95);
}

/** Move readings within the limit to the front, in order; gives their number. */
function dropOutliers(
  values: Float64Array,
  count: number,
  outlierSigma: number,
  typicalSigma: number,
  scratch: Float64Array,
): number {
  let sum = 0;
  for (let k = 0; k < count; k++) sum += values[k]!;
  const mean = sum / count;
  let square = 0;
  let furthest = 0;
  for (let k = 0; k < count; k++) {
    const distance = Math.abs(values[k]! - mean);
    square += distance * distance;
    if (distance > furthest) furthest = distance;
  }
  // Median and mean are never further apart than the standard deviation, so most pixels need no median.
  if (furthest + Math.sqrt(square / count) <= outlierSigma * typicalSigma) return count;
  const present = values.subarray(0, count);
  const centre = median(present, scratch);
  for (let k = 0; k < count; k++) scratch[k] = Math.abs(values[k]! - centre);
  const own = SIGMA_PER_MAD * median(scratch.subarray(0, count));
  // The spread of a few readings can be small by chance: never judge by less than the ordinary noise.
  const limit = outlierSigma * Math.max(own, typicalSigma);
  let kept = 0;
  for (let k = 0; k < count; k++) {
    const value = values[k]!;
    if (Math.abs(value - centre) <= limit) values[kept++] = value;
  }
  return kept;
}

/** Noise of a pixel after outliers were left out; one reading left tells nothing, so it keeps what it had. */
function spread(values: Float64Array, count: number, before: number, typicalSigma: number): number {
  const sigma = successiveSigma(values, count);
  return Number.isNaN(sigma) ? Math.max(before, typicalSigma) : sigma;
}
