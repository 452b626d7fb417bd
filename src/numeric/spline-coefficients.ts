// numeric: picture → coefficients of the cubic B-spline that passes through every pixel.
import { raiseTo } from "../core/raise-to.js";
import { bridgedByKernel, bridgeHoles } from "./bridge-holes.js";
import type { Address } from "./kernel-exports.js";
import { type Kernels, sharedKernels } from "./kernels.js";

/** Pole of the inverse of the sampled cubic B-spline. */
const POLE = Math.sqrt(3) - 2;
/** Undoes the attenuation of the two recursive passes: (1 − z)(1 − 1/z). */
const GAIN = 6;

/** Beyond so many pixels nothing of a value is left in double precision: 0.268²⁹ is below 2⁻⁵³. */
const FAR = 30;

/** Find the coefficients of the cubic B-spline that interpolates a picture, mirrored about its border pixels.
 *  Method: causal and anticausal recursion along rows, then columns (Unser, Aldroubi & Eden 1993, IEEE Trans.
 *  Signal Process. 41:821, doi 10.1109/78.193220; DOI from memory), with the exact start for a mirrored line.
 *  A hole can't be filtered: NaN pixels are bridged first. What the bridge does to the coefficients falls to 27 % with
 *  every pixel of distance.
 *  @param data row-major, NaN = no reading; not modified.
 *  @returns width×height coefficients; all zero if there is no reading at all.
 */
export function splineCoefficients(
  data: Float32Array | Float64Array,
  width: number,
  height: number,
): Float64Array {
  const kernels = data instanceof Float32Array ? sharedKernels() : null;
  if (kernels !== null) {
    const at = splineByKernel(kernels, kernels.put(data as Float32Array), width, height);
    return kernels.doubles(at, data.length).slice();
  }
  const coefficients = bridgeHoles(data, width, height);
  if (width > 1) {
    for (let y = 0; y < height; y++) {
      filterLines(coefficients, y * width, 1, width, 1, 0);
    }
  }
  if (height > 1) filterLines(coefficients, 0, width, height, width, 1);
  return coefficients;
}

/** The same by the compiled kernels, left in their memory.
 *  @param from where the picture lies there.
 *  @returns where the coefficients lie, in double precision.
 */
export function splineByKernel(kernels: Kernels, from: Address, width: number, height: number): Address {
  const at = bridgedByKernel(kernels, from, width, height);
  for (const [run, length] of [
    [kernels.run.filterRows, width],
    [kernels.run.filterColumns, height],
  ] as const) {
    if (length < 2) continue;
    const period = 2 * length - 2;
    const whole = 1 / (1 - raiseTo(POLE, period));
    run(at, width, height, POLE, whole, raiseTo(POLE, period - 1), raiseTo(POLE, length - 1));
  }
  return at;
}

/** Filter `lanes` neighbouring lines of `length` values at once; the values of a line lie `step` apart. */
function filterLines(
  c: Float64Array,
  start: number,
  step: number,
  length: number,
  lanes: number,
  laneStep: number,
): void {
  const last = start + (length - 1) * step;
  // Sum over the mirrored line, whose period is 2·length − 2.
  const period = 2 * length - 2;
  const whole = 1 / (1 - raiseTo(POLE, period));
  for (let lane = 0; lane < lanes; lane++) {
    const at = start + lane * laneStep;
    let forward = POLE;
    let backward = raiseTo(POLE, period - 1);
    let sum = c[at]! + raiseTo(POLE, length - 1) * c[at + (length - 1) * step]!;
    for (let i = 1; i < Math.min(length - 1, FAR); i++) {
      sum += (forward + backward) * c[at + i * step]!;
      forward *= POLE;
      backward /= POLE;
    }
    c[at] = GAIN * sum * whole;
  }
  for (let i = 1; i < length; i++) {
    for (let lane = 0, at = start + i * step; lane < lanes; lane++, at += laneStep) {
      c[at] = GAIN * c[at]! + POLE * c[at - step]!;
    }
  }
  const end = POLE / (POLE * POLE - 1);
  for (let lane = 0, at = last; lane < lanes; lane++, at += laneStep) {
    c[at] = end * (c[at]! + POLE * c[at - step]!);
  }
  for (let i = length - 2; i >= 0; i--) {
    for (let lane = 0, at = start + i * step; lane < lanes; lane++, at += laneStep) {
      c[at] = POLE * (c[at + step]! - c[at]!);
    }
  }
}
