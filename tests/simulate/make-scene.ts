// simulate: a kind of scene and a seed → a scene; equal arguments give equal scenes.
import { buildScene, type ScenePlan } from "./build-scene.js";
import { randomCamera } from "./camera.js";
import { chooseSources } from "./choose-sources.js";
import { randomCopper } from "./copper.js";
import { KIND_SETTINGS, type KindSettings } from "./kinds.js";
import { makePlateGrid } from "./plate.js";
import { boundsOf } from "./polygons.js";
import { makeRandom, type Random } from "./random.js";
import { randomBoard } from "./random-board.js";
import type { Kind, Nudge, Scene } from "./scene.js";
import { mirrorPlace, randomMirrors, randomScenery } from "./scenery.js";
import { randomSensor } from "./sensor.js";
import { changedSurroundings, randomSurroundings, type Surroundings, withBlobAt } from "./surroundings.js";

/** Make a scene of a kind. Boards on which no part fits the kind are drawn again. */
export function makeScene(kind: Kind, seed: number): Scene {
  for (let attempt = 0; attempt < 200; attempt++) {
    const random = makeRandom(`scene/${kind}/${seed}/${attempt}`);
    const plan = drawPlan(random, kind, seed);
    if (plan === null) continue;
    const scene = buildScene(random, plan);
    if (!KIND_SETTINGS[kind].mirrorsHand || scene.truth.sources.length === 0) return scene;
    if (scene.truth.reflectionChangeK > scene.truth.peakApparentRiseK) return scene;
  }
  throw new Error(`no scene of kind ${kind} came of seed ${seed}`);
}

function drawPlan(random: Random, kind: Kind, seed: number): ScenePlan | null {
  const settings = KIND_SETTINGS[kind];
  const side = random.chance(0.75) ? "top" : "bottom";
  const board = randomBoard(random, side, {
    shinyParts: Math.max(settings.shinyParts, random.integer(0, 2)),
    hideFinish: settings.hideFinish,
    warmParts: settings.sources === "warm" || random.chance(0.7),
  });
  const size = settings.burst
    ? random.pick([
        [160, 120],
        [160, 120],
        [120, 90],
        [256, 192],
      ] as const)
    : null;
  const camera = randomCamera(random, board.outline, side, size);
  const chosen = chooseSources(random, board, camera, side, settings);
  if (chosen === null) return null;

  const ambientC = random.uniform(18, 28);
  const scenery = randomScenery(
    random,
    board,
    side,
    camera,
    plateGrid(random, board.outline),
    ambientC + random.uniform(-0.2, 1),
  );
  const mirrors = randomMirrors(random, scenery.parts.length);
  const rooms = drawRooms(random, settings, ambientC, scenery, camera, mirrors);
  if (rooms === null) return null;
  const rateHz = settings.burst ? random.logUniform(1, 8) : null;
  return {
    kind,
    seed,
    board,
    side,
    camera,
    grid: scenery.grid,
    constants: {
      lossWPerM2K: random.uniform(14, 26),
      heatCapacityJPerM2K: board.thicknessMm * 1e-3 * random.uniform(1.7e6, 2.4e6) + random.uniform(100, 600),
    },
    plateKnown: seed % 3 === 0,
    chosen,
    strength:
      settings.peakK === null
        ? { by: "sigmas", value: random.uniform(5, 9) }
        : { by: "peakK", value: random.logUniform(...settings.peakK) },
    timesS: rateHz === null ? [pairTime(random)] : burstTimes(random, rateHz),
    rateHz,
    baselineFrames: random.pick([1, 1, 2, 4, 8]),
    poweredFrames: random.pick([1, 1, 2, 4, 8]),
    nudge: drawNudge(random, settings.nudge),
    scenery,
    mirrors,
    ...rooms,
    sensor: randomSensor(random, camera.width, camera.height, ambientC),
    stepK: settings.eightBit ? random.logUniform(0.04, 0.2) : null,
    supply: random.chance(0.6)
      ? { volts: Number(random.uniform(0.6, 4.2).toFixed(2)), share: random.uniform(0.35, 0.98) }
      : null,
  };
}

/** k·t over the board, on cells of 0.3–0.6 mm. */
function plateGrid(random: Random, outline: Parameters<typeof boundsOf>[0]): ScenePlan["grid"] {
  const [x0, y0, x1, y1] = boundsOf(outline);
  const cellMm = Math.min(0.6, Math.max(0.3, Math.sqrt(((x1 - x0) * (y1 - y0)) / 11000)));
  const mean = random.logUniform(0.002, 0.05);
  const copper = randomCopper(random, outline);
  return makePlateGrid(outline, cellMm, (x, y) => mean * copper(x, y));
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

function drawNudge(random: Random, how: KindSettings["nudge"]): Nudge {
  if (how === "never" || (how === "half" && random.chance(0.5))) return { dxPx: 0, dyPx: 0, rotationDeg: 0 };
  const length = random.uniform(0.1, 3);
  const direction = random.uniform(0, 2 * Math.PI);
  return {
    dxPx: length * Math.cos(direction),
    dyPx: length * Math.sin(direction),
    rotationDeg: random.uniform(-0.5, 0.5),
  };
}

/** The room at the baseline and with power; where asked, a hand shows in a shiny part in one of the two. */
function drawRooms(
  random: Random,
  settings: KindSettings,
  ambientC: number,
  scenery: ReturnType<typeof randomScenery>,
  camera: ScenePlan["camera"],
  mirrors: ScenePlan["mirrors"],
): { roomBefore: Surroundings; roomAfter: Surroundings } | null {
  const roomBefore = randomSurroundings(random, ambientC);
  const roomAfter = changedSurroundings(random, roomBefore, settings.roomChange);
  if (!settings.mirrorsHand) return { roomBefore, roomAfter };
  const shiny = scenery.parts.flatMap((part, i) =>
    part.finish === "bare-metal" && part.kind !== "other" ? [i] : [],
  );
  if (shiny.length === 0) return null;
  const index = settings.hideFinish ? shiny[0]! : random.pick(shiny);
  const [x, y] = mirrorPlace(camera, mirrors, index, ...scenery.parts[index]!.centerMm);
  const handK = random.uniform(3, 34 - ambientC);
  return random.chance(0.65)
    ? { roomBefore, roomAfter: withBlobAt(random, roomAfter, x, y, handK) }
    : { roomBefore: withBlobAt(random, roomBefore, x, y, handK), roomAfter };
}
