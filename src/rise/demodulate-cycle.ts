// rise: frames taken while the supply goes on and off → what of each pixel follows the supply, and its noise.
import type { OptionsOf } from "../core/options.js";
import { createRaster, type Raster } from "../core/raster.js";
import { seriesOf } from "../frames/frame-series.js";
import { median, SIGMA_PER_MAD } from "../numeric/median.js";
import type { CycleBasis } from "./cycle-basis.js";

/** Defaults of `demodulateCycle`. */
export const DEMODULATE_DEFAULTS = Object.freeze({
  /** A reading further from its pixel's own course than this many sigma is taken for a flare or a slip: one in 1.7
   *  million Gaussian ones. */
  outlierSigma: 5,
  /** A pixel without a reading in more than this share of the frames has none at all. */
  mostMissingShare: 0.2,
});

/** Rounds in which missing readings are filled by the fit: each leaves the missing share of the error before. */
const ROUNDS = 4;
/** Pixels whose readings are brought together at a time: the only copy of frames that is made. */
const BLOCK = 64;

/** What `demodulateCycle` finds; all rasters in the grid of the frames. */
export interface Demodulated {
  /** Mean over all frames, °C. */
  readonly mean: Raster<"degC">;
  /** White noise of one reading, from differences of successive frames, K. */
  readonly sigma: Raster<"K">;
  /** Amplitudes of cos ωt and sin ωt, K, with t from the first frame; NaN = no reading. */
  readonly cosine: Raster<"K">;
  readonly sine: Raster<"K">;
  /** The same at frequencies beside the supply's, where there is only noise. */
  readonly neighbours: readonly { readonly cosine: Raster<"K">; readonly sine: Raster<"K"> }[];
  /** Readings left out as outliers. */
  readonly outliers: number;
}

/** Demodulate every pixel against the rhythm of the supply.
 *  Least squares on cosine, sine, harmonics and slow drift; the common offset of each frame is taken off before. The
 *  fixed pattern of the sensor is constant and cancels. One pass over the frames, block by block.
 *  A sine of amplitude a comes out as a, and white noise σ as √(2/N)·σ in each of the two amplitudes.
 *  @param frames °C, one shape, NaN = no reading; not modified.
 *  @param levelsK common offset of each frame, K.
 *  @param basis courses in time for as many frames.
 */
export function demodulateCycle(
  frames: readonly Raster<"degC">[],
  levelsK: Float64Array,
  basis: CycleBasis,
  options: OptionsOf<typeof DEMODULATE_DEFAULTS> = {},
): Demodulated {
  const o = { ...DEMODULATE_DEFAULTS, ...options };
  const { width, height } = frames[0]!;
  const count = frames.length;
  const meanLevelK = levelsK.reduce((sum, level) => sum + level, 0) / count;
  const make = (): Raster<"K"> => createRaster("K", width, height);
  const mean = createRaster("degC", width, height);
  const sigma = make();
  const courses = [basis.cosine, basis.sine, ...basis.neighbours.flat()];
  const results = courses.map(make);
  const series = Array.from({ length: BLOCK }, () => new Float64Array(count));
  const work = {
    fit: new Float64Array(count),
    held: new Uint8Array(count),
    scratch: new Float64Array(count),
  };
  const amounts = new Float64Array(courses.length);
  let outliers = 0;
  const demodulate = (stack: readonly Float32Array[], from: number, at: number, pixels: number): void => {
    for (let n = 0; n < count; n++) {
      const data = stack[n]!;
      const level = levelsK[n]!;
      for (let p = 0; p < pixels; p++) series[p]![n] = data[from + p]! - level;
    }
    for (let p = 0; p < pixels; p++) {
      const readings = series[p]!;
      const cleaned = clean(readings, basis.fitted, o, work);
      outliers += cleaned.outliers;
      sigma.data[at + p] = cleaned.sigma;
      mean.data[at + p] = cleaned.mean + meanLevelK;
      if (!(cleaned.mean * 0 === 0)) amounts.fill(Number.NaN);
      else products(courses, readings, amounts);
      for (let k = 0; k < courses.length; k++) {
        // Filled readings follow the fit: the neighbours miss their noise, and the amplitudes rest on fewer readings.
        results[k]!.data[at + p] = (k < 2 ? 1 : cleaned.noiseScale) * amounts[k]!;
      }
    }
  };
  for (const { start, size, stack } of seriesOf(frames).blocks()) {
    for (let from = 0; from < size; from += BLOCK) {
      demodulate(stack, from, start + from, Math.min(BLOCK, size - from));
    }
  }
  const [cosine, sine, ...rest] = results;
  return {
    mean,
    sigma,
    cosine: cosine!,
    sine: sine!,
    neighbours: basis.neighbours.map((_, j) => ({ cosine: rest[2 * j]!, sine: rest[2 * j + 1]! })),
    outliers,
  };
}

interface Cleaned {
  /** Of the readings before they were centred; NaN where too few are known. */
  readonly mean: number;
  readonly sigma: number;
  readonly outliers: number;
  readonly noiseScale: number;
}

/** Centre a pixel's readings on their mean, and put the fit in place of missing ones and outliers. In place. */
function clean(
  readings: Float64Array,
  fitted: readonly Float64Array[],
  options: { readonly outlierSigma: number; readonly mostMissingShare: number },
  work: { readonly fit: Float64Array; readonly held: Uint8Array; readonly scratch: Float64Array },
): Cleaned {
  const count = readings.length;
  const { held, scratch, fit } = work;
  let known = 0;
  let sum = 0;
  let steps = 0;
  let square = 0;
  for (let n = 0; n < count; n++) {
    const value = readings[n]!;
    held[n] = value * 0 === 0 ? 0 : 1;
    if (held[n] === 1) continue;
    known++;
    sum += value;
    const step = n > 0 ? value - readings[n - 1]! : Number.NaN;
    if (!(step * 0 === 0)) continue;
    square += step * step;
    steps++;
  }
  const missing = count - known;
  if (missing > options.mostMissingShare * count) {
    return { mean: Number.NaN, sigma: Number.NaN, outliers: 0, noiseScale: 1 };
  }
  const mean = sum / known;
  const sigma = Math.sqrt(square / (2 * Math.max(1, steps)));
  let furthest = 0;
  for (let n = 0; n < count; n++) {
    const value = held[n] === 1 ? 0 : readings[n]! - mean;
    readings[n] = value;
    if (Math.abs(value) > furthest) furthest = Math.abs(value);
  }
  const suspicious = furthest > options.outlierSigma * sigma;
  let outliers = 0;
  for (
    let round = 0;
    round < ROUNDS && (missing > 0 || (suspicious && (round === 0 || outliers > 0)));
    round++
  ) {
    fitCourses(readings, fitted, fit);
    for (let n = 0; n < count; n++)
      scratch[n] = held[n] === 1 ? Number.NaN : Math.abs(readings[n]! - fit[n]!);
    const limit = suspicious
      ? options.outlierSigma * SIGMA_PER_MAD * median(scratch)
      : Number.POSITIVE_INFINITY;
    for (let n = 0; n < count; n++) {
      // Without any spread nothing can be called an outlier.
      if (limit > 0 && scratch[n]! > limit) {
        held[n] = 1;
        outliers++;
      }
      if (held[n] === 1) readings[n] = fit[n]!;
    }
  }
  return { mean, sigma, outliers, noiseScale: count / Math.max(1, known - outliers) };
}

/** The least-squares fit of orthonormal courses. */
function fitCourses(readings: Float64Array, fitted: readonly Float64Array[], out: Float64Array): void {
  out.fill(0);
  const amounts = new Float64Array(fitted.length);
  products(fitted, readings, amounts);
  fitted.forEach((course, k) => {
    const amount = amounts[k]!;
    for (let n = 0; n < out.length; n++) out[n]! += amount * course[n]!;
  });
}

/** The sum of the readings times each course: four courses at a time, since one sum waits for its own last addition. */
function products(courses: readonly Float64Array[], readings: Float64Array, out: Float64Array): void {
  const last = courses.length - 1;
  for (let k = 0; k <= last; k += 4) {
    const a = courses[k]!;
    const b = courses[Math.min(last, k + 1)]!;
    const c = courses[Math.min(last, k + 2)]!;
    const d = courses[Math.min(last, k + 3)]!;
    let [ofA, ofB, ofC, ofD] = [0, 0, 0, 0];
    for (let n = 0; n < readings.length; n++) {
      const reading = readings[n]!;
      ofA += a[n]! * reading;
      ofB += b[n]! * reading;
      ofC += c[n]! * reading;
      ofD += d[n]! * reading;
    }
    out[k] = ofA;
    if (k + 1 <= last) out[k + 1] = ofB;
    if (k + 2 <= last) out[k + 2] = ofC;
    if (k + 3 <= last) out[k + 3] = ofD;
  }
}
