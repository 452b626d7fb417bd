// frames: a matrix of temperatures → the step that its readings were rounded to, where that is coarse enough to matter.
import type { Raster } from "../core/raster.js";

/** Steps that files are rounded to, K, coarsest first: in °C or K, and in °F. Finer ones are below the noise of any
 *  camera. */
const STEPS_K = [1, 5 / 9, 0.5, 2.5 / 9, 0.1, 0.5 / 9, 0.05] as const;
/** Readings that tell the step. */
const SAMPLE = 2000;
/** Single precision at 100 °C is good to 8e-6 K. */
const TOLERANCE_K = 1e-4;

/** Find the step of rounded temperatures: the coarsest that all readings differ by whole multiples of, whatever the
 *  zero of the unit that they were rounded in.
 *  @param raster °C, NaN = no reading; not modified.
 *  @returns K; 0 where the readings are not rounded, or all alike.
 */
export function levelStep({ data }: Raster<"degC">): number {
  const stride = Math.max(1, Math.floor(data.length / SAMPLE));
  const readings: number[] = [];
  for (let i = 0; i < data.length; i += stride) if (data[i]! * 0 === 0) readings.push(data[i]!);
  const [first] = readings;
  if (first === undefined || readings.every((value) => value === first)) return 0;
  const isWhole = (stepK: number): boolean =>
    readings.every((value) => {
      const steps = (value - first) / stepK;
      return Math.abs(steps - Math.round(steps)) * stepK <= TOLERANCE_K;
    });
  return STEPS_K.find(isWhole) ?? 0;
}
