// rise: frames taken while the supply goes on and off → its period, with the chance that it is none.
import { ToolError } from "../core/errors.js";
import type { OptionsOf } from "../core/options.js";
import type { Raster } from "../core/raster.js";
import { cellGrid, cellSeries } from "./cell-series.js";
import { LEAST_PERIODS } from "./check-cycle.js";
import { cycleBasis } from "./cycle-basis.js";
import { cycleSpectrum } from "./cycle-spectrum.js";

/** Defaults of `searchCycle` and `findCycle`. */
export const FIND_CYCLE_DEFAULTS = Object.freeze({
  /** A rhythm that noise makes more often than this is none: as for hotspots, one in a hundred. */
  mostChance: 0.01,
  /** A half or a third of the strongest frequency is taken for the fundamental if noise makes it this seldom. */
  mostChanceBelow: 1e-4,
  /** Courses and spectra of all cells are compared at once, and so they are held: 40,000 frames of 256×192. */
  mostBytes: 3e9,
});

/** A rhythm. */
export interface FoundCycle {
  /** In frames. */
  readonly periodFrames: number;
  /** Standard error of the period from noise, frames. */
  readonly periodSigmaFrames: number;
  /** Chance that noise alone makes so strong a line anywhere among all frequencies and cells. */
  readonly pValue: number;
  /** Independent frequencies that the search is worth, for a line of this power: a periodogram that is looked at
   *  between its grid points is more than the number of these. */
  readonly frequenciesTried: number;
}

/** Cells that speak for the exact frequency: the strongest, as many at most. */
const MOST_SPEAKERS = 64;
/** Cells that share their noise, by the smoothing over neighbours: (Σw)²/Σw² of its weights. */
const CELLS_ALIKE = 7.1;
/** Points a step of 1/(frames) on which the exact frequency is looked for. */
const FINE = 50;

/** Find the strongest rhythm in the frames, whether noise can make it or not.
 *  The periodogram of every cell of some pixels, each in units of its own noise; the largest value over cells and
 *  frequencies; a half or a third of its frequency if there is a line there too (a supply that is on for half the time
 *  has its strongest line at the fundamental, but slow noise may drown it); then a fine search around it.
 *  The chance counts cells and frequencies: W·√x·e^(−x) a cell, with W = 1.02 × the band × the frames (Baluev 2008,
 *  Mon. Not. R. Astron. Soc. 385:1279, from memory: a periodogram between its grid points).
 *  @param frames °C, one shape, NaN = no reading, at even intervals; 16 or more; not modified.
 *  @returns null where no cell has readings in all frames.
 *  @throws ToolError E_CYCLE_LONG where the frames are too many.
 */
export function searchCycle(
  frames: readonly Raster<"degC">[],
  options: OptionsOf<typeof FIND_CYCLE_DEFAULTS> = {},
): FoundCycle | null {
  const o = { ...FIND_CYCLE_DEFAULTS, ...options };
  const count = frames.length;
  checkLength(frames[0]!, count, o.mostBytes);
  const step = 1 / count;
  const lowest = LEAST_PERIODS * step;
  const highest = 0.5 - 0.5 * step;
  // Constant, slope and bend come first among the fitted courses, whatever the period.
  const { series } = cellSeries(frames, cycleBasis(count, 4).fitted.slice(0, 3));
  const moving = series.filter((one) => one.some((value) => Math.abs(value) > 1e-9));
  if (moving.length === 0) return null;
  const { frequencies, powers, cellNoise } = cycleSpectrum(moving, lowest, highest);
  const strongest = frequencies.map((_, k) => powers.reduce((most, power) => Math.max(most, power[k]!), 0));
  let best = 0;
  for (let k = 1; k < strongest.length; k++) if (strongest[k]! > strongest[best]!) best = k;
  const power = strongest[best]!;
  const tries = (highest - lowest) * count * Math.sqrt((Math.PI / 3) * Math.max(1, power));
  const pValue = -Math.expm1(-moving.length * tries * Math.exp(-power));
  let fundamental = best;
  let fundamentalPower = 0;
  for (const order of [2, 3]) {
    for (let k = 0; k < frequencies.length; k++) {
      if (Math.abs(frequencies[k]! - frequencies[best]! / order) > 0.5 * step) continue;
      const chance = -Math.expm1(-moving.length * 2 * Math.exp(-strongest[k]!));
      if (chance > o.mostChanceBelow || strongest[k]! < fundamentalPower) continue;
      fundamental = k;
      fundamentalPower = strongest[k]!;
    }
  }
  const speakers = moving
    .map((one, c) => ({ one, noise: cellNoise[c]!, power: powers[c]![fundamental]! }))
    .filter((cell) => cell.power >= strongest[fundamental]! / 4)
    .sort((a, b) => b.power - a.power)
    .slice(0, MOST_SPEAKERS);
  const frequency = refine(speakers, frequencies[fundamental]!, count);
  const sum = speakers.reduce((total, cell) => total + cell.power, 0);
  const total = Math.max(strongest[fundamental]!, sum / CELLS_ALIKE);
  // The bound for the frequency of a sine, √(1.5/P)/(π·N) with P the sum of A²·N/4σ² (Rife & Boorstyn 1974, IEEE Trans.
  // Inf. Theory 20:591, from memory).
  const frequencySigma = Math.sqrt(1.5 / total) / (Math.PI * count);
  return {
    periodFrames: 1 / frequency,
    periodSigmaFrames: frequencySigma / frequency ** 2,
    pValue,
    frequenciesTried: tries,
  };
}

/** A sequence that would fill the memory is refused before it does. */
function checkLength({ width, height }: Raster, count: number, mostBytes: number): void {
  const { columns, rows } = cellGrid(width, height);
  // A course at eight bytes a frame, and a spectrum of up to four points a frame at four bytes.
  const bytes = columns * rows * count * 24;
  if (bytes <= mostBytes) return;
  throw new ToolError("E_CYCLE_LONG", {
    problem: `looking for a rhythm in ${count} frames of ${width}×${height} would take ${(bytes / 1e9).toPrecision(2)} GB of memory`,
    fix: `Give at most ${Math.floor(mostBytes / (columns * rows * 24))} of them, one stretch or every second one; a burst without cycled power may be of any length`,
  });
}

/** Find the period in which the supply goes on and off.
 *  @throws ToolError E_CYCLE_NONE where noise explains the strongest rhythm.
 */
export function findCycle(
  frames: readonly Raster<"degC">[],
  options: OptionsOf<typeof FIND_CYCLE_DEFAULTS> = {},
): FoundCycle {
  const { mostChance } = { ...FIND_CYCLE_DEFAULTS, ...options };
  const found = searchCycle(frames, options);
  if (found !== null && found.pValue <= mostChance) return found;
  throw new ToolError("E_CYCLE_NONE", {
    problem: `nothing in the ${frames.length} powered frames follows a rhythm between two frames and half the sequence${
      found === null
        ? ""
        : ` (the strongest one is no more than noise makes in ${Math.ceil(100 * found.pValue)} of 100 sequences)`
    }`,
    fix: "Give the period with --cycle SECONDS if you know it, capture longer, or raise the current in small steps below the rail's nominal voltage",
  });
}

/** The frequency within a step of 1/(frames) at which the cells together have most power. */
function refine(
  speakers: readonly { readonly one: Float64Array; readonly noise: number }[],
  start: number,
  count: number,
): number {
  const spacing = 1 / (FINE * count);
  const reach = Math.ceil(0.6 * FINE);
  const sums = Float64Array.from({ length: 2 * reach + 1 }, (_, k) => {
    const turn = 2 * Math.PI * (start + (k - reach) * spacing);
    const cos = Float64Array.from({ length: count }, (_, n) => Math.cos(turn * n));
    const sin = Float64Array.from({ length: count }, (_, n) => Math.sin(turn * n));
    let sum = 0;
    for (const { one, noise } of speakers) {
      let re = 0;
      let im = 0;
      for (let n = 0; n < count; n++) {
        re += one[n]! * cos[n]!;
        im += one[n]! * sin[n]!;
      }
      sum += (re * re + im * im) / noise;
    }
    return sum;
  });
  let top = 0;
  for (let k = 1; k < sums.length; k++) if (sums[k]! > sums[top]!) top = k;
  if (top === 0 || top === sums.length - 1) return start + (top - reach) * spacing;
  const [left, middle, right] = [sums[top - 1]!, sums[top]!, sums[top + 1]!];
  const bend = left - 2 * middle + right;
  const off = bend < 0 ? (0.5 * (left - right)) / bend : 0;
  return start + (top - reach + off) * spacing;
}
