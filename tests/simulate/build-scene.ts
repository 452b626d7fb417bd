// simulate: a plan (board, camera, heat, room, sensor) → frames as the tool gets them, and the truth.
import type { Camera } from "./camera.js";
import type { Chosen } from "./choose-sources.js";
import { type Cycle, exposeCycle } from "./expose-cycle.js";
import { exposeGroup, quantiseTogether, standardDeviation } from "./expose-frames.js";
import type { PlateConstants, PlateGrid } from "./plate.js";
import type { Point } from "./polygons.js";
import type { Random } from "./random.js";
import { makePose, type Pose, renderFrame, type Scenery } from "./render.js";
import type { Kind, Nudge, Scene, SimFrame, TrueBoard } from "./scene.js";
import { boardMask, meanConductance, trueSource } from "./scene-truth.js";
import { type BareScenery, type Mirrors, mirrorsOf } from "./scenery.js";
import type { Sensor } from "./sensor.js";
import { solveHeat } from "./solve-heat.js";
import type { Surroundings } from "./surroundings.js";
import { type Telling, tellMap, tellView } from "./tell-tool.js";

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
  /** What sets the watts: the fault's own, the apparent peak in K, or the peak in σ of one pixel of the difference
   *  (of its amplitude, where the supply is switched on and off).
   */
  readonly strength: { readonly by: "watts" | "peakK" | "sigmas"; readonly value: number };
  /** Seconds from power-on: one for every powered frame of a burst, else one for all. */
  readonly timesS: readonly number[];
  readonly rateHz: number | null;
  /** A supply that is switched on and off; `timesS` holds the time of each frame. */
  readonly cycle?: Cycle | null;
  readonly baselineFrames: number;
  readonly poweredFrames: number;
  readonly nudge: Nudge;
  readonly scenery: BareScenery;
  readonly mirrors: Mirrors;
  readonly roomBefore: Surroundings;
  readonly roomAfter: Surroundings;
  readonly sensor: Sensor;
  /** What a warming lens adds in the corners of the powered frames, K. */
  readonly vignetteK?: number;
  /** Step of an 8-bit scale, K; null for full precision. */
  readonly stepK: number | null;
  /** The supply's voltage, and the share of its watts that the parts turn into heat; null if not written down. */
  readonly supply: { readonly volts: number; readonly share: number } | null;
  /** How wrong the map is. */
  readonly telling?: Telling;
}

/** The scene without heat, ready to be rendered. */
export interface Stage {
  readonly pose: Pose;
  /** With the board where the powered frames see it. */
  readonly moved: Pose;
  readonly before: Scenery;
  readonly after: Scenery;
  /** Without noise and heat: with the room as it was at the baseline, and as it was with power; board in its first
   *  place. */
  readonly ideal: Float32Array;
  readonly idealAfter: Float32Array;
  readonly reflectionChangeK: number;
}

const STILL: Nudge = { dxPx: 0, dyPx: 0, rotationDeg: 0 };

/** Render what a plan shows without heat. */
export function stageScene(plan: ScenePlan): Stage {
  const { camera } = plan;
  const fine = camera.width > 200 ? 2 : 3;
  const pose = makePose(camera, plan.board.outline, plan.scenery.parts, STILL, fine);
  const moved = isStill(plan.nudge)
    ? pose
    : makePose(camera, plan.board.outline, plan.scenery.parts, plan.nudge, fine);
  const before: Scenery = { ...plan.scenery, ...mirrorsOf(camera, plan.mirrors, plan.roomBefore) };
  const after: Scenery = { ...plan.scenery, ...mirrorsOf(camera, plan.mirrors, plan.roomAfter) };
  const ideal = renderFrame(pose, before, camera.blurPx, camera.halo);
  const idealAfter = renderFrame(pose, after, camera.blurPx, camera.halo);
  const reflectionChangeK = largestDifference(idealAfter, ideal);
  return { pose, moved, before, after, ideal, idealAfter, reflectionChangeK };
}

/** Render a planned scene. `random` draws the noise and the errors of the map. */
export function buildScene(random: Random, plan: ScenePlan, stage: Stage = stageScene(plan)): Scene {
  const { camera, sensor } = plan;
  const baseline = exposeGroup(random, sensor, repeated(stage.ideal, plan.baselineFrames), false, 0);
  const cycle = plan.cycle ?? null;
  const heated = cycle === null ? exposePower(random, plan, stage) : exposeCycle(random, plan, cycle, stage);
  const { powered } = heated;
  const stepK = plan.stepK === null ? null : quantiseTogether([...baseline, ...powered], plan.stepK);

  const toldRight = plan.plateKnown && (plan.telling?.plateFactors ?? null) === null;
  const plate = {
    conductanceWPerK: meanConductance(plan.grid),
    ...plan.constants,
    known: plan.plateKnown,
    toldRight,
  };
  const watts = heated.watts.reduce((sum, one) => sum + one, 0);
  const supply = plan.supply;
  return {
    kind: plan.kind,
    seed: plan.seed,
    board: tellMap(random, plan.board, plate, plan.telling),
    view: tellView(random, plan.board, camera, plan.side),
    baseline: baseline.map((data) => frame(camera, data)),
    powered: powered.map((data) => frame(camera, data)),
    rateHz: plan.rateHz,
    volts: supply === null ? null : supply.volts,
    amps: supply === null ? null : Number((watts / supply.share / supply.volts).toPrecision(3)),
    cycleS: cycle === null ? null : Number(cycle.periodS.toFixed(2)),
    otherSide: null,
    truth: {
      kind: plan.kind,
      seed: plan.seed,
      sources: plan.chosen.map((one, i) => trueSource(plan, one, heated.watts[i]!, heated.centers[i]!)),
      transform: plan.nudge,
      noise: {
        sigmaK: sensor.sigmaK,
        fixedPatternK: standardDeviation(sensor.patternK),
        differenceK: differenceNoiseK(plan),
        stepK,
        badPixels: sensor.bad.map((pixel) => [pixel.x, pixel.y] as const),
      },
      plate,
      cycle: cycle === null ? null : { periodS: cycle.periodS, amplitudeK: heated.amplitudeK },
      timesS: plan.timesS,
      peakApparentRiseK: heated.peakK,
      reflectionChangeK: stage.reflectionChangeK,
      blurPx: camera.blurPx,
      mmPerPx: camera.mmPerPx,
      boardToFrame: camera.boardToFrame,
      boardMask: boardMask(stage.pose),
    },
  };
}

/** White noise of one pixel of mean powered − mean baseline, of one powered frame in a burst, K. */
function differenceNoiseK(plan: ScenePlan): number {
  const count = plan.rateHz === null ? plan.poweredFrames : 1;
  return plan.sensor.sigmaK * Math.sqrt(1 / plan.baselineFrames + 1 / count);
}

/** What the powered frames show. */
export interface Heated {
  readonly powered: Float32Array[];
  readonly watts: readonly number[];
  readonly centers: readonly Point[];
  readonly peakK: number;
  /** Largest amplitude at the supply's period, K; 0 where it is not switched. */
  readonly amplitudeK: number;
}

/** Frames of a supply that stays on. */
function exposePower(random: Random, plan: ScenePlan, stage: Stage): Heated {
  const { camera } = plan;
  const { pose, moved, after, idealAfter } = stage;
  const heat = solveHeat(plan, differenceNoiseK(plan), (scenery) =>
    largestDifference(renderFrame(pose, { ...after, ...scenery }, camera.blurPx, camera.halo), idealAfter),
  );
  const shown = plan.timesS.map((_, t) =>
    renderFrame(moved, { ...after, ...heat.at(t) }, camera.blurPx, camera.halo),
  );
  const ideals = plan.rateHz === null ? repeated(shown[0]!, plan.poweredFrames) : shown;
  const powered = exposeGroup(random, plan.sensor, ideals, true, plan.vignetteK ?? 0);
  return { powered, watts: heat.watts, centers: heat.centers, peakK: heat.peakK, amplitudeK: 0 };
}

function repeated(ideal: Float32Array, count: number): Float32Array[] {
  return Array.from({ length: count }, () => ideal);
}

function frame(camera: Camera, data: Float32Array): SimFrame {
  return { unit: "degC", width: camera.width, height: camera.height, data };
}

function isStill(nudge: Nudge): boolean {
  return nudge.dxPx === 0 && nudge.dyPx === 0 && nudge.rotationDeg === 0;
}

/** Largest change of any pixel between two pictures. */
export function largestDifference(a: Float32Array, b: Float32Array): number {
  let best = 0;
  for (let i = 0; i < a.length; i++) best = Math.max(best, Math.abs(a[i]! - b[i]!));
  return best;
}
