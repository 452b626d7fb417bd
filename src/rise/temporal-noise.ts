// rise: frames of each role, in their order → the noise of one frame at each pixel, from how it varies in time.
import { createRaster, type Raster } from "../core/raster.js";
import { type FrameSeries, seriesOf } from "../frames/frame-series.js";
import { stretchesOf } from "../frames/series-tiles.js";
import { type Kernels, sharedKernels } from "../numeric/kernels.js";
import { shrinkVariances } from "./shrink-variances.js";

/** Frames of one role as they came from the sensor. */
export interface NoiseGroup {
  readonly frames: readonly Raster<"degC">[];
  /** Common offset of each frame, K; taken off first. */
  readonly offsetsK: ArrayLike<number>;
  /** Courses that are no noise, one value a frame, such as the growth of heat; each pixel has its own share of them. A
   *  level and, from four frames on, a slope are always taken out. */
  readonly courses?: readonly ArrayLike<number>[];
}

/** Result of `temporalNoise`. */
export interface TemporalNoise {
  /** Noise of ONE frame at each pixel, K; NaN where a frame has no reading. */
  readonly sigma: Raster<"K">;
  /** Degrees of freedom of each pixel's own variance. */
  readonly freedom: number;
  /** … and of what all pixels together add to it; Infinity: all pixels are alike. */
  readonly priorFreedom: number;
}

/** Fewer degrees of freedom say less of a pixel than the common value does: seven frames of one role, which lose a
 *  level and a slope. */
const LEAST_NOISE_FREEDOM = 5;

/** Measure the noise of each pixel from its variation in time.
 *  Level, slope and the given courses are fitted to each pixel of each role and taken off; the mean square of what is
 *  left, over the remaining degrees of freedom, is drawn towards the ordinary pixel (see `shrinkVariances`).
 *  @param groups frames of one sensor, not moved; not modified.
 *  @param leastK noise that there is in any case (half of a level's width), K.
 *  @returns null where there are too few frames, or none differs from the others.
 */
export function temporalNoise(groups: readonly NoiseGroup[], leastK: number): TemporalNoise | null {
  const first = groups[0]?.frames[0];
  if (first === undefined) return null;
  const { width, height } = first;
  const bases = groups.map(courseBasis);
  const freedom = groups.reduce((sum, group, g) => sum + freedomOf(group, bases[g]!), 0);
  if (freedom < LEAST_NOISE_FREEDOM) return null;
  const squares = new Float64Array(width * height);
  groups.forEach((group, g) => {
    if (freedomOf(group, bases[g]!) > 0) addGroup(group, bases[g]!, squares);
  });
  const variances = new Float32Array(squares.length);
  for (let i = 0; i < squares.length; i++) {
    variances[i] = Math.max(squares[i]! / freedom, leastK * leastK);
  }
  const shrunk = shrinkVariances(variances, freedom);
  // One frame given many times: that nothing varies says nothing of the noise.
  if (Number.isNaN(shrunk.priorVariance)) return null;
  const sigma = createRaster("K", width, height);
  for (let i = 0; i < sigma.data.length; i++) sigma.data[i] = Math.sqrt(shrunk.variances[i]!);
  return { sigma, freedom, priorFreedom: shrunk.priorFreedom };
}

/** What is taken out of each pixel's course, orthonormal. */
function courseBasis({ frames, courses = [] }: NoiseGroup): Float64Array[] {
  const count = frames.length;
  const ramp = Float64Array.from({ length: count }, (_, k) => k);
  return orthonormal([ramp.map(() => 1), ...(count < 4 ? [] : [ramp]), ...courses], count);
}

/** Degrees of freedom that a role leaves. */
function freedomOf({ frames }: NoiseGroup, basis: readonly Float64Array[]): number {
  return Math.max(0, frames.length - basis.length);
}

/** Add a role's squares of what is left at each pixel. */
function addGroup(
  { frames, offsetsK }: NoiseGroup,
  basis: readonly Float64Array[],
  squares: Float64Array,
): void {
  const count = frames.length;
  const flat = Float64Array.from(basis.flatMap((course) => [...course]));
  const kernels = sharedKernels();
  if (kernels !== null) {
    addByKernel(kernels, seriesOf(frames), offsetsK, flat, squares);
    return;
  }
  const values = new Float64Array(count);
  for (const { start, size, stack } of seriesOf(frames).blocks()) {
    for (let i = 0; i < size; i++) {
      const origin = stack[0]![i]!;
      let square = 0;
      for (let k = 0; k < count; k++) {
        const value = stack[k]![i]! - origin - offsetsK[k]!;
        values[k] = value;
        square += value * value;
      }
      for (let j = 0; j < flat.length; j += count) {
        let share = 0;
        for (let k = 0; k < count; k++) share += flat[j + k]! * values[k]!;
        square -= share * share;
      }
      squares[start + i]! += square;
    }
  }
}

/** A kernel takes so many pixels at a time. */
const LANES = 8;

/** The same by the compiled kernel, to the last bit. */
function addByKernel(
  kernels: Kernels,
  series: FrameSeries,
  offsetsK: ArrayLike<number>,
  flat: Float64Array,
  squares: Float64Array,
): void {
  const { count: of, width, height } = series;
  const offsets = kernels.put(Float64Array.from(offsetsK));
  const courses = kernels.put(flat);
  const courseCount = flat.length / of;
  const sums = kernels.take(8 * (width * height + LANES));
  const stretches = stretchesOf(kernels, series);
  const values = kernels.take(8 * LANES * stretches.most);
  const state = kernels.take(8 * (2 + courseCount) * Math.max(LANES, stretches.waiting));
  kernels.doubles(sums, squares.length).set(squares);
  for (const { start, size, at, stride, from, count } of stretches) {
    const to = sums + 8 * start;
    kernels.run.leftSquares(
      at,
      stride,
      from,
      count,
      of,
      size,
      offsets,
      courses,
      courseCount,
      values,
      state,
      to,
    );
  }
  squares.set(kernels.doubles(sums, squares.length));
}

/** Gram–Schmidt; courses that add nothing are left out. */
function orthonormal(courses: readonly ArrayLike<number>[], count: number): Float64Array[] {
  const basis: Float64Array[] = [];
  for (const course of courses) {
    const rest = Float64Array.from(course);
    const before = norm(rest);
    for (const one of basis) {
      let share = 0;
      for (let k = 0; k < count; k++) share += one[k]! * rest[k]!;
      for (let k = 0; k < count; k++) rest[k]! -= share * one[k]!;
    }
    const length = norm(rest);
    if (length > 1e-6 * before) basis.push(rest.map((value) => value / length));
  }
  return basis;
}

function norm(values: Float64Array): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0));
}
