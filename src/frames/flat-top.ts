// frames: a matrix of temperatures → how many of its pixels stand where the camera's scale must have ended.
import type { Raster } from "../core/raster.js";
import { kernelsFor } from "../numeric/kernels.js";

/** Fewer pixels of one highest value can have come together by chance. */
const LEAST_PIXELS = 9;
/** How many steps of its digits a reading beside a flat top lies below it, as the middle one of them: heat that is
 *  whole falls off gently around its peak, and what is cut off does not. */
const STEPS_BELOW = 8;
/** Steps that files are rounded to, K, coarsest first; finer ones don't matter here. */
const STEPS_K = [1, 0.5, 0.1, 0.05] as const;
const FINEST_STEP_K = 0.01;
/** Readings that tell the step. */
const SAMPLE = 2000;

/** Count the pixels at a highest value that is none of the scene: many that are equal, among others that are not.
 *  Files of temperatures do not say where the camera's scale ended, but readings scatter: a plateau that does not, and
 *  that breaks off at its rim, is cut off. A peak that is cut off by less than its own rounding is not seen to be.
 *  @param raster °C, NaN = no reading; not modified.
 *  @returns null where there is none.
 */
export function flatTop({
  data,
  width,
}: Raster<"degC">): { readonly low: number; readonly high: number } | null {
  const { topC, places } = topOf(data);
  if (places.length < LEAST_PIXELS) return null;
  const below = fallsBeside(data, width, topC, places);
  if (below.length === 0) return null;
  below.sort((a, b) => a - b);
  return below[below.length >> 1]! > STEPS_BELOW * stepOf(data) ? { low: 0, high: places.length } : null;
}

/** The highest reading, −∞ without any, and the pixels that show it. */
function topOf(data: Float32Array): { readonly topC: number; readonly places: ArrayLike<number> } {
  const kernels = kernelsFor(data.length);
  if (kernels !== null) {
    const at = kernels.put(data);
    const topC = kernels.run.largest(at, data.length);
    const to = kernels.take(4 * data.length);
    return { topC, places: kernels.integers(to, kernels.run.placesOf(at, data.length, topC, to)).slice() };
  }
  let topC = Number.NEGATIVE_INFINITY;
  let places: number[] = [];
  for (let i = 0; i < data.length; i++) {
    if (data[i]! < topC || Number.isNaN(data[i])) continue;
    if (data[i]! > topC) places = [];
    topC = data[i]!;
    places.push(i);
  }
  return { topC, places };
}

/** How far the readings beside the pixels at the top lie below it, K. */
function fallsBeside(data: Float32Array, width: number, topC: number, places: ArrayLike<number>): number[] {
  const falls: number[] = [];
  for (let k = 0; k < places.length; k++) {
    const i = places[k]!;
    const x = i % width;
    for (const beside of [x > 0 ? i - 1 : i, x < width - 1 ? i + 1 : i, i - width, i + width]) {
      const value = data[beside];
      if (value !== undefined && value < topC) falls.push(topC - value);
    }
  }
  return falls;
}

/** The step that all readings are whole multiples of, K. */
function stepOf(data: Float32Array): number {
  const stride = Math.max(1, Math.floor(data.length / SAMPLE));
  const isRounded = (stepK: number): boolean => {
    for (let i = 0; i < data.length; i += stride) {
      const steps = data[i]! / stepK;
      // Single precision at 100 °C: 8e-6.
      if (Math.abs(steps - Math.round(steps)) * stepK > 1e-4) return false;
    }
    return true;
  };
  return STEPS_K.find(isRounded) ?? FINEST_STEP_K;
}
