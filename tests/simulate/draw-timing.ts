// simulate: a kind of scene → when its frames are taken, how the board is nudged, when each part begins to heat.
import type { Chosen } from "./choose-sources.js";
import type { Cycle } from "./expose-cycle.js";
import type { KindSettings } from "./kinds.js";
import type { Random } from "./random.js";
import type { Nudge } from "./scene.js";

/** When the powered frames are taken. */
export interface Timing {
  readonly timesS: readonly number[];
  readonly rateHz: number | null;
  readonly cycle: Cycle | null;
}

/** Draw the times of a pair, a burst, or a run with a supply that is switched on and off. */
export function drawTiming(random: Random, settings: KindSettings): Timing {
  if (settings.cycled) return cycleTiming(random);
  if (!settings.burst) return { timesS: [pairTime(random)], rateHz: null, cycle: null };
  const rateHz = random.logUniform(1, 8);
  return { timesS: burstTimes(random, rateHz), rateHz, cycle: null };
}

/** Most pairs are taken on the way up; in a third the board was left until nothing changed any more. */
function pairTime(random: Random): number {
  return random.chance(0.35) ? random.uniform(900, 1500) : random.logUniform(1, 180);
}

/** The shutter does not know when power comes: the first frame is up to one interval late. */
function burstTimes(random: Random, rateHz: number): number[] {
  const late = random.uniform(0.05, 1);
  return Array.from({ length: random.integer(8, 24) }, (_, i) => (i + late) / rateHz);
}

/** Five periods or more, eight frames or more in each, at up to 25 frames a second. */
function cycleTiming(random: Random): Timing {
  const periodS = random.logUniform(2, 20);
  const frames = random.pick([200, 300, 500, 1000]);
  const periods = random.uniform(5, Math.min(25, frames / 8));
  const rateHz = Number(Math.min(25, frames / (periods * periodS)).toPrecision(3));
  const late = random.uniform(0.05, 1);
  const timesS = Array.from({ length: frames }, (_, i) => (i + late) / rateHz);
  return { timesS, rateHz, cycle: { periodS } };
}

/** Let parts begin one after the other: four in ten at once, the others somewhere in the first 55 % of the burst. */
export function drawOnsets(random: Random, chosen: readonly Chosen[], timesS: readonly number[]): Chosen[] {
  const lastS = timesS[timesS.length - 1]!;
  return chosen.map((one) => ({
    ...one,
    onsetS: random.chance(0.4) ? 0 : random.uniform(0, 0.55) * lastS,
  }));
}

/** Draw how far the board moved between baseline and power: up to 3 px and 0.5°. */
export function drawNudge(random: Random, how: KindSettings["nudge"]): Nudge {
  if (how === "never" || (how === "half" && random.chance(0.5))) return { dxPx: 0, dyPx: 0, rotationDeg: 0 };
  const length = random.uniform(0.1, 3);
  const direction = random.uniform(0, 2 * Math.PI);
  return {
    dxPx: length * Math.cos(direction),
    dyPx: length * Math.sin(direction),
    rotationDeg: random.uniform(-0.5, 0.5),
  };
}
