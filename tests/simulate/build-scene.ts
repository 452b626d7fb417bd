// simulate: a plan (board, camera, heat, room, sensor) → frames as the tool gets them, and the truth.
import { applyTo, type Camera } from "./camera.js";
import type { Chosen } from "./choose-sources.js";
import { bodyRiseK } from "./heat.js";
import type { PlateConstants, PlateGrid } from "./plate.js";
import type { Point } from "./polygons.js";
import type { Random } from "./random.js";
import { makePose, type Pose, renderFrame, type Scenery } from "./render.js";
import type { Kind, Nudge, Scene, SimFrame, TrueBoard, TrueSource } from "./scene.js";
import { type BareScenery, type Mirrors, mirrorsOf } from "./scenery.js";
import { type Drift, expose, quantise, randomPattern, type Sensor, smoothField } from "./sensor.js";
import { solveHeat } from "./solve-heat.js";
import type { Surroundings } from "./surroundings.js";
import { tellMap, tellView } from "./tell-tool.js";

/** All that is decided before the first frame is rendered. */
export interface ScenePlan {
  readonly kind: Kind;
  readonly seed: number;
  readonly board: TrueBoard;
  readonly side: "top" | "bottom";
  readonly camera: Camera;
  readonly grid: PlateGrid;
  readonly constants: PlateConstants;
  readonly plateKnown: boolean;
  readonly chosen: readonly Chosen[];
  /** What sets the watts: the fault's own, the apparent peak in K, or the peak in σ of one pixel of the difference. */
  readonly strength: { readonly by: "watts" | "peakK" | "sigmas"; readonly value: number };
  /** Seconds from power-on: one for every powered frame of a burst, else one for all. */
  readonly timesS: readonly number[];
  readonly rateHz: number | null;
  readonly baselineFrames: number;
  readonly poweredFrames: number;
  readonly nudge: Nudge;
  readonly scenery: BareScenery;
  readonly mirrors: Mirrors;
  readonly roomBefore: Surroundings;
  readonly roomAfter: Surroundings;
  readonly sensor: Sensor;
  /** Step of an 8-bit scale, K; null for full precision. */
  readonly stepK: number | null;
  /** The supply's voltage, and the share of its watts that the parts turn into heat; null if not written down. */
  readonly supply: { readonly volts: number; readonly share: number } | null;
}

const STILL: Nudge = { dxPx: 0, dyPx: 0, rotationDeg: 0 };

/** Render a planned scene. `random` draws the noise and the errors of the map. */
export function buildScene(random: Random, plan: ScenePlan): Scene {
  const { camera, sensor } = plan;
  const burst = plan.rateHz !== null;
  const poweredCount = burst ? plan.timesS.length : plan.poweredFrames;
  const differenceK = sensor.sigmaK * Math.sqrt(1 / plan.baselineFrames + 1 / (burst ? 1 : poweredCount));

  const fine = camera.width > 200 ? 2 : 3;
  const pose = makePose(camera, plan.board.outline, plan.scenery.parts, STILL, fine);
  const moved = isStill(plan.nudge)
    ? pose
    : makePose(camera, plan.board.outline, plan.scenery.parts, plan.nudge, fine);
  const before: Scenery = { ...plan.scenery, ...mirrorsOf(camera, plan.mirrors, plan.roomBefore) };
  const after: Scenery = { ...plan.scenery, ...mirrorsOf(camera, plan.mirrors, plan.roomAfter) };
  const ideal = renderFrame(pose, before, camera.blurPx);
  const idealAfter = renderFrame(pose, after, camera.blurPx);
  const reflectionChangeK = largestDifference(idealAfter, ideal);

  const heat = solveHeat(plan, differenceK, (scenery) =>
    largestDifference(renderFrame(pose, { ...after, ...scenery }, camera.blurPx), idealAfter),
  );
  const shown = plan.timesS.map((_, t) => renderFrame(moved, { ...after, ...heat.at(t) }, camera.blurPx));

  const baseline = exposeGroup(
    random,
    sensor,
    Array.from({ length: plan.baselineFrames }, () => ideal),
    false,
  );
  const powered = exposeGroup(
    random,
    sensor,
    burst ? shown : Array.from({ length: poweredCount }, () => shown[0]!),
    true,
  );
  const stepK = plan.stepK === null ? null : quantiseTogether([...baseline, ...powered], plan.stepK);

  const plateMean = meanConductance(plan.grid);
  const plate = { conductanceWPerK: plateMean, ...plan.constants, known: plan.plateKnown };
  const watts = heat.watts.reduce((sum, one) => sum + one, 0);
  const supply = plan.supply;
  return {
    kind: plan.kind,
    seed: plan.seed,
    board: tellMap(random, plan.board, plate),
    view: tellView(random, plan.board, camera, plan.side),
    baseline: baseline.map((data) => frame(camera, data)),
    powered: powered.map((data) => frame(camera, data)),
    rateHz: plan.rateHz,
    volts: supply === null ? null : supply.volts,
    amps: supply === null ? null : Number((watts / supply.share / supply.volts).toPrecision(3)),
    truth: {
      kind: plan.kind,
      seed: plan.seed,
      sources: plan.chosen.map((one, i) => trueSource(plan, one, heat.watts[i]!, heat.centers[i]!)),
      transform: plan.nudge,
      noise: {
        sigmaK: sensor.sigmaK,
        fixedPatternK: standardDeviation(sensor.patternK),
        differenceK,
        stepK,
        badPixels: sensor.bad.map((pixel) => [pixel.x, pixel.y] as const),
      },
      plate,
      timesS: plan.timesS,
      peakApparentRiseK: heat.peakK,
      reflectionChangeK,
      blurPx: camera.blurPx,
      mmPerPx: camera.mmPerPx,
      boardToFrame: camera.boardToFrame,
      boardMask: boardMask(pose),
    },
  };
}

function trueSource(plan: ScenePlan, one: Chosen, watts: number, mm: Point): TrueSource {
  const { boardToFrame } = plan.camera;
  return {
    ref: one.part.ref,
    side: one.part.side,
    fault: one.fault,
    visible: one.part.side === plan.side,
    watts,
    mm,
    px: applyTo(boardToFrame, mm[0], mm[1]),
    bodyRiseK: bodyRiseK(one.part, watts, plan.timesS[plan.timesS.length - 1]!),
    polygonPx: one.part.polygon.map(([x, y]) => applyTo(boardToFrame, x, y)),
  };
}

/** Frames of one role: a common offset that wanders, and for the powered ones a change since the baseline. */
function exposeGroup(
  random: Random,
  sensor: Sensor,
  ideals: readonly Float32Array[],
  later: boolean,
): Float32Array[] {
  const smoothK = later ? smoothField(random, random.uniform(0, 0.1)) : () => 0;
  const patternSd = standardDeviation(sensor.patternK) * random.uniform(0, 0.04);
  const patternK = later ? randomPattern(random, sensor.width, sensor.height, patternSd) : null;
  let offsetK = later ? random.uniform(-0.3, 0.3) : 0;
  return ideals.map((ideal) => {
    offsetK += 0.02 * random.normal();
    const drift: Drift = { offsetK, smoothK, patternK };
    return expose(random, sensor, ideal, drift);
  });
}

/** One 8-bit scale for all frames; the step grows if 256 levels would not hold what is there. */
function quantiseTogether(frames: readonly Float32Array[], wishedK: number): number {
  const sorted = frames.map((data) => Float32Array.from(data).sort());
  // Bad pixels don't set a scale: the ends follow the 0.1 % and the largest but a few.
  const low = Math.min(...sorted.map((s) => s[Math.floor(s.length * 0.002)]!)) - 0.5;
  const high = Math.max(...sorted.map((s) => s[s.length - 8]!)) + 0.5;
  const stepK = Math.max(wishedK, (high - low) / 255);
  const lowC = Math.floor(low * 10) / 10;
  for (const data of frames) quantise(data, { lowC, stepK });
  return stepK;
}

function frame(camera: Camera, data: Float32Array): SimFrame {
  return { unit: "degC", width: camera.width, height: camera.height, data };
}

function isStill(nudge: Nudge): boolean {
  return nudge.dxPx === 0 && nudge.dyPx === 0 && nudge.rotationDeg === 0;
}

function largestDifference(a: Float32Array, b: Float32Array): number {
  let best = 0;
  for (let i = 0; i < a.length; i++) best = Math.max(best, Math.abs(a[i]! - b[i]!));
  return best;
}

function standardDeviation(values: Float32Array): number {
  let sum = 0;
  let squares = 0;
  for (const value of values) {
    sum += value;
    squares += value * value;
  }
  return Math.sqrt(Math.max(0, squares / values.length - (sum / values.length) ** 2));
}

function meanConductance(grid: PlateGrid): number {
  let sum = 0;
  let cells = 0;
  for (let i = 0; i < grid.inside.length; i++) {
    if (grid.inside[i] === 0) continue;
    sum += grid.conductance[i]!;
    cells++;
  }
  return sum / cells;
}

/** A pixel belongs to the board if its middle sample does. */
function boardMask(pose: Pose): Uint8Array {
  const { width, height, fine, boardCover } = pose;
  const mask = new Uint8Array(width * height);
  const middle = Math.floor(fine / 2);
  for (let j = 0; j < height; j++) {
    for (let i = 0; i < width; i++) {
      mask[j * width + i] =
        boardCover[(j * fine + middle) * width * fine + i * fine + middle]! >= 0.5 ? 1 : 0;
    }
  }
  return mask;
}
