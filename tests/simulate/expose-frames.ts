// simulate: ideal frames and a sensor → frames of one role as an uncooled array shows them.
import type { Random } from "./random.js";
import { type Drift, expose, quantise, randomPattern, type Sensor, smoothField } from "./sensor.js";

/** Expose frames of one role: a common offset that wanders, and for the powered ones a change since the baseline.
 *  @param vignetteK what a warming lens adds in the corners of the later frames, K.
 */
export function exposeGroup(
  random: Random,
  sensor: Sensor,
  ideals: readonly Float32Array[],
  later: boolean,
  vignetteK: number,
): Float32Array[] {
  const smooth = later ? smoothField(random, random.uniform(0, 0.1)) : () => 0;
  const smoothK = later && vignetteK !== 0 ? withCorners(smooth, vignetteK) : smooth;
  const patternSd = standardDeviation(sensor.patternK) * random.uniform(0, 0.04);
  const patternK = later ? randomPattern(random, sensor.width, sensor.height, patternSd) : null;
  let offsetK = later ? random.uniform(-0.3, 0.3) : 0;
  return ideals.map((ideal) => {
    offsetK += 0.02 * random.normal();
    const drift: Drift = { offsetK, smoothK, patternK };
    return expose(random, sensor, ideal, drift);
  });
}

/** A lens that has warmed shows itself most where it shades most: as the fourth power of the distance from the axis. */
export function withCorners(
  smooth: (x: number, y: number) => number,
  cornerK: number,
): (x: number, y: number) => number {
  return (x, y) => smooth(x, y) + cornerK * (2 * ((x - 0.5) ** 2 + (y - 0.5) ** 2)) ** 2;
}

/** One 8-bit scale for all frames; the step grows if 256 levels would not hold what is there. */
export function quantiseTogether(frames: readonly Float32Array[], wishedK: number): number {
  const sorted = frames.map((data) => Float32Array.from(data).sort());
  // Bad pixels don't set a scale: its ends follow the coldest but 0.2 % and the hottest but seven.
  const low = Math.min(...sorted.map((s) => s[Math.floor(s.length * 0.002)]!)) - 0.5;
  const high = Math.max(...sorted.map((s) => s[s.length - 8]!)) + 0.5;
  const stepK = Math.max(wishedK, (high - low) / 255);
  const lowC = Math.floor(low * 10) / 10;
  for (const data of frames) quantise(data, { lowC, stepK });
  return stepK;
}

/** Standard deviation of all values. */
export function standardDeviation(values: Float32Array): number {
  let sum = 0;
  let squares = 0;
  for (const value of values) {
    sum += value;
    squares += value * value;
  }
  return Math.sqrt(Math.max(0, squares / values.length - (sum / values.length) ** 2));
}
