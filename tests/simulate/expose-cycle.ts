// simulate: a plan whose supply is switched on and off → the frames of the whole run.
// The plate is linear: its answer to the switching is a sum of its answers to single steps, solved once.
import { type Heated, largestDifference, type ScenePlan, type Stage } from "./build-scene.js";
import { standardDeviation, withCorners } from "./expose-frames.js";
import { addPlateHeat, bodyRiseK, bodyShape } from "./heat.js";
import { solveTransient } from "./plate.js";
import type { Random } from "./random.js";
import { renderFrame, type Scenery } from "./render.js";
import { expose, randomPattern, smoothField } from "./sensor.js";

/** A supply that is on for the first half of each period, from the first frame's power-on. */
export interface Cycle {
  readonly periodS: number;
}

/** Ratio of the times at which the answer to a step is known; between them it is taken as straight over log time,
 *  within 0.5 % of its end value.
 */
const TIME_RATIO = 1.35;
/** Rise at which the pictures of the answers are rendered, K: large against rounding, small against Planck's curve. */
const TRIAL_K = 1;

/** Pictures of unit watts: the sum of picture × weight is what a frame shows. */
interface Answers {
  readonly pictures: readonly Float32Array[];
  /** Weight of each picture in each frame, frame by frame. */
  readonly weights: readonly Float64Array[];
}

/** Solve, render and expose a run. */
export function exposeCycle(random: Random, plan: ScenePlan, cycle: Cycle, stage: Stage): Heated {
  const { timesS, sensor } = plan;
  const heatW = new Float64Array(plan.grid.inside.length);
  const centers = plan.chosen.map((one) => addPlateHeat(plan.grid, one.part, one.share, heatW));
  const answers = answersToSteps(plan, cycle, stage, heatW);
  const unitK = amplitudePeak(answers, timesS, cycle.periodS);
  const aimK = plan.strength.value * sensor.sigmaK * Math.sqrt(2 / timesS.length);
  const scale = plan.strength.by === "watts" ? plan.strength.value : aimK / unitK;

  const { width, height } = sensor;
  const slow = withCorners(smoothField(random, random.uniform(0, 0.1)), plan.vignetteK ?? 0);
  const wave = smoothField(random, random.uniform(0, 0.03));
  const waves = random.uniform(0.3, 2.5);
  const patternSd = standardDeviation(sensor.patternK) * random.uniform(0, 0.04);
  const pattern = randomPattern(random, width, height, patternSd);
  const jumpEvery = random.integer(60, 200);
  const ideal = new Float32Array(width * height);
  const patternK = new Float32Array(width * height);
  let offsetK = random.uniform(-0.3, 0.3);
  let peakK = 0;
  const powered = timesS.map((timeS, f) => {
    const share = timeS / timesS[timesS.length - 1]!;
    for (let k = 0; k < ideal.length; k++) {
      ideal[k] = stage.ideal[k]! + share * (stage.idealAfter[k]! - stage.ideal[k]!);
      patternK[k] = share * pattern[k]!;
    }
    const before = ideal.slice();
    for (const [m, picture] of answers.pictures.entries()) {
      const weight = scale * answers.weights[f]![m]!;
      if (weight === 0) continue;
      for (let k = 0; k < ideal.length; k++) ideal[k] = ideal[k]! + weight * picture[k]!;
    }
    peakK = Math.max(peakK, largestDifference(ideal, before));
    // The camera's common offset wanders, and jumps when its shutter closes for a look at itself.
    offsetK += 0.02 * random.normal() + (f % jumpEvery === jumpEvery - 1 ? 0.1 * random.normal() : 0);
    const turn = 2 * Math.PI * waves * share;
    const smoothK = (x: number, y: number): number => share * slow(x, y) + Math.sin(turn) * wave(x, y);
    return expose(random, sensor, ideal, { offsetK, smoothK, patternK });
  });
  const watts = plan.chosen.map((one) => one.share * scale);
  return { powered, watts, centers, peakK, amplitudeK: scale * unitK };
}

function answersToSteps(plan: ScenePlan, cycle: Cycle, stage: Stage, heatW: Float64Array): Answers {
  const { timesS } = plan;
  const lastS = timesS[timesS.length - 1]!;
  const knots: number[] = [];
  for (let t = 0.5 * timesS[0]!; t < lastS * TIME_RATIO; t *= TIME_RATIO) knots.push(t);
  const { camera, scenery } = plan;
  const cold = scenery.parts.map(() => null);
  const picture = (heat: Pick<Scenery, "plateRise" | "bodyRise">, factor: number): Float32Array => {
    const shown = renderFrame(stage.moved, { ...stage.after, ...heat }, camera.blurPx, camera.halo);
    return shown.map((value, k) => (value - stage.idealAfter[k]!) / factor);
  };
  const pictures = solveTransient(plan.grid, plan.constants, heatW, knots).map((rise) => {
    const factor = TRIAL_K / rise.reduce((best, value) => Math.max(best, value), 0);
    return picture({ plateRise: rise.map((value) => factor * value), bodyRise: cold }, factor);
  });
  const bodies = plan.chosen.filter((one) => one.part.side === plan.side);
  for (const one of bodies) {
    const bodyRise = scenery.parts.map((part) =>
      part === one.part ? (u: number, v: number) => TRIAL_K * bodyShape(part, u, v) : null,
    );
    pictures.push(picture({ plateRise: null, bodyRise }, TRIAL_K));
  }
  const weights = timesS.map((timeS) => {
    const row = new Float64Array(pictures.length);
    for (let half = 0; half * 0.5 * cycle.periodS < timeS; half++) {
      const sign = half % 2 === 0 ? 1 : -1;
      const since = timeS - half * 0.5 * cycle.periodS;
      addStep(row, knots, since, sign);
      for (const [b, one] of bodies.entries()) {
        const at = knots.length + b;
        row[at] = row[at]! + sign * bodyRiseK(one.part, one.share, since);
      }
    }
    return row;
  });
  return { pictures, weights };
}

/** The answer a time after a step, between the two knots around it. */
function addStep(row: Float64Array, knots: readonly number[], since: number, sign: number): void {
  if (since <= knots[0]!) {
    row[0] = row[0]! + (sign * since) / knots[0]!;
    return;
  }
  const place = Math.min(knots.length - 1.000001, Math.log(since / knots[0]!) / Math.log(TIME_RATIO));
  const m = Math.floor(place);
  row[m] = row[m]! + sign * (1 - place + m);
  row[m + 1] = row[m + 1]! + sign * (place - m);
}

/** Largest amplitude of any pixel at the supply's period, K, the run's slow warming taken off as a parabola. */
function amplitudePeak({ pictures, weights }: Answers, timesS: readonly number[], periodS: number): number {
  const parts = pictures.map((_, m) => {
    const series = withoutParabola(weights.map((row) => row[m]!));
    let re = 0;
    let im = 0;
    for (const [f, value] of series.entries()) {
      const angle = (2 * Math.PI * timesS[f]!) / periodS;
      re += (2 * value * Math.cos(angle)) / series.length;
      im += (2 * value * Math.sin(angle)) / series.length;
    }
    return [re, im] as const;
  });
  let best = 0;
  for (let k = 0; k < pictures[0]!.length; k++) {
    let re = 0;
    let im = 0;
    for (const [m, [a, b]] of parts.entries()) {
      re += a * pictures[m]![k]!;
      im += b * pictures[m]![k]!;
    }
    best = Math.max(best, Math.hypot(re, im));
  }
  return best;
}

/** Take off the best constant, slope and parabola, by Legendre's polynomials on evenly spaced times. */
function withoutParabola(series: readonly number[]): number[] {
  const n = series.length;
  const at = series.map((_, f) => (2 * (f + 0.5)) / n - 1);
  const shapes = [() => 1, (u: number) => u, (u: number) => 1.5 * u * u - 0.5];
  const rest = [...series];
  for (const shape of shapes) {
    let top = 0;
    let size = 0;
    for (const [f, u] of at.entries()) {
      top += rest[f]! * shape(u);
      size += shape(u) ** 2;
    }
    for (const [f, u] of at.entries()) rest[f] = rest[f]! - (top / size) * shape(u);
  }
  return rest;
}
