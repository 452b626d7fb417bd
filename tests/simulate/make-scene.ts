// simulate: a kind of scene and a seed → a scene; equal arguments give equal scenes.
import { buildScene, type ScenePlan, stageScene } from "./build-scene.js";
import { randomCamera } from "./camera.js";
import { chooseSources } from "./choose-sources.js";
import { randomCopper } from "./copper.js";
import { drawNudge, drawOnsets, drawTiming } from "./draw-timing.js";
import { drawTelling, flawedCamera, flawedMirrors, flawedSensor, unevenLoss, withLamp } from "./flaws.js";
import { KIND_SETTINGS, type KindSettings } from "./kinds.js";
import { makePlateGrid } from "./plate.js";
import { boundsOf } from "./polygons.js";
import { makeRandom, type Random } from "./random.js";
import { randomBoard } from "./random-board.js";
import type { Kind, OtherSide, Scene } from "./scene.js";
import { mirrorPlace, randomMirrors, randomScenery } from "./scenery.js";
import { randomSensor } from "./sensor.js";
import { changedSurroundings, randomSurroundings, type Surroundings, withBlobAt } from "./surroundings.js";
import { turnOver } from "./turn-over.js";

/** True mean emissivity of solder mask: ±0.05 about the tables' 0.9. */
const MASK_EMISSIVITY = [0.86, 0.945] as const;

/** Make a scene of a kind. Boards on which no part fits the kind are drawn again. */
export function makeScene(kind: Kind, seed: number): Scene {
  return makePlannedScene(kind, seed).scene;
}

/** The same, with the plan that it was built from: what a second look at its board starts from. */
export function makePlannedScene(kind: Kind, seed: number): { plan: ScenePlan; scene: Scene } {
  const settings = KIND_SETTINGS[kind];
  for (let attempt = 0; attempt < 200; attempt++) {
    const random = makeRandom(`scene/${kind}/${seed}/${attempt}`);
    const plan = drawPlan(random, kind, seed);
    if (plan === null) continue;
    const stage = stageScene(plan);
    const { by, value } = plan.strength;
    const outshone = settings.mirrorsHand && plan.chosen.length > 0 && by === "peakK";
    if (outshone && stage.reflectionChangeK <= value) continue;
    const scene = buildScene(random, plan, stage);
    if (!settings.twoSides) return { plan, scene };
    return { plan, scene: { ...scene, otherSide: turnedOver(random, plan, scene) } };
  }
  throw new Error(`no scene of kind ${kind} came of seed ${seed}`);
}

function drawPlan(random: Random, kind: Kind, seed: number): ScenePlan | null {
  const settings = KIND_SETTINGS[kind];
  const side = random.chance(0.75) ? "top" : "bottom";
  const board = randomBoard(random, side, {
    shinyParts: Math.max(settings.shinyParts, random.integer(0, 2)),
    hideFinish: settings.hideFinish,
    warmParts: settings.sources === "warm" || settings.onsets || random.chance(0.7),
  });
  const camera = flawedCamera(random, randomCamera(random, board.outline, side, frameSize(random, settings)));
  const picked = chooseSources(random, board, camera, side, settings);
  if (picked === null) return null;
  const timing = drawTiming(random, settings);
  const chosen = settings.onsets ? drawOnsets(random, picked, timing.timesS) : picked;

  const ambientC = random.uniform(18, 28);
  const grid = unevenLoss(random, plateGrid(random, board.outline, settings.cycled));
  const boardC = ambientC + random.uniform(-0.2, 1);
  const scenery = randomScenery(random, board, side, camera, grid, boardC, MASK_EMISSIVITY);
  const mirrors = flawedMirrors(random, randomMirrors(random, scenery.parts.length));
  const rooms = drawRooms(random, settings, ambientC, scenery, camera, mirrors);
  if (rooms === null) return null;
  return {
    kind,
    seed,
    board,
    side,
    camera,
    grid,
    constants: {
      lossWPerM2K: random.uniform(14, 26),
      heatCapacityJPerM2K: board.thicknessMm * 1e-3 * random.uniform(1.7e6, 2.4e6) + random.uniform(100, 600),
    },
    plateKnown: seed % 3 === 0,
    chosen,
    strength: drawStrength(random, settings),
    ...timing,
    baselineFrames: random.pick([1, 1, 2, 4, 8]),
    poweredFrames: settings.cycled ? timing.timesS.length : random.pick([1, 1, 2, 4, 8]),
    nudge: drawNudge(random, settings.nudge),
    scenery,
    mirrors,
    ...rooms,
    sensor: flawedSensor(random, randomSensor(random, camera.width, camera.height, ambientC), ambientC),
    vignetteK: 0.08 * random.normal(),
    stepK: settings.eightBit ? random.logUniform(0.04, 0.2) : null,
    supply: random.chance(0.6)
      ? { volts: Number(random.uniform(0.6, 4.2).toFixed(2)), share: random.uniform(0.35, 0.98) }
      : null,
    telling: drawTelling(random, board, chosen, settings.unlisted),
  };
}

/** Long runs are seen by small cameras, for their cost; null leaves the choice to the camera. */
function frameSize(random: Random, settings: KindSettings): readonly [number, number] | null {
  if (settings.cycled) return random.pick([[80, 60] as const, [80, 60] as const, [120, 90] as const]);
  if (!settings.burst) return null;
  return random.pick([[160, 120] as const, [160, 120] as const, [120, 90] as const, [256, 192] as const]);
}

/** Faint heat is measured by the noise: in a pair 5–9 σ of a pixel, in a run 6–30 σ of a pixel's amplitude. */
function drawStrength(random: Random, settings: KindSettings): ScenePlan["strength"] {
  if (settings.peakK !== null) return { by: "peakK", value: random.logUniform(...settings.peakK) };
  return { by: "sigmas", value: settings.cycled ? random.logUniform(6, 30) : random.uniform(5, 9) };
}

/** k·t over the board, on cells of 0.3–0.6 mm; coarser ones for the pixels of the small cameras. */
function plateGrid(
  random: Random,
  outline: Parameters<typeof boundsOf>[0],
  coarse: boolean,
): ScenePlan["grid"] {
  const [x0, y0, x1, y1] = boundsOf(outline);
  const [most, cells] = coarse ? [0.9, 5000] : [0.6, 11000];
  const cellMm = Math.min(most, Math.max(0.3, Math.sqrt(((x1 - x0) * (y1 - y0)) / cells)));
  const mean = random.logUniform(0.002, 0.05);
  const copper = randomCopper(random, outline);
  return makePlateGrid(outline, cellMm, (x, y) => mean * copper(x, y));
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
  const empty = randomSurroundings(random, ambientC);
  const later = changedSurroundings(random, empty, settings.roomChange);
  const { roomBefore, roomAfter } = withLamp(random, empty, later, settings.roomChange);
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

/** The same attempt from the other side: the board turned over, the same camera, sensor, heat and room. */
function turnedOver(random: Random, plan: ScenePlan, scene: Scene): OtherSide {
  const turned = turnOver(random, plan, MASK_EMISSIVITY);
  const mirrors = flawedMirrors(random, turned.mirrors);
  const { baseline, powered, view } = buildScene(random, {
    ...turned,
    mirrors,
    roomAfter: changedSurroundings(random, plan.roomBefore, KIND_SETTINGS[plan.kind].roomChange),
    nudge: drawNudge(random, KIND_SETTINGS[plan.kind].nudge),
    strength: { by: "watts", value: scene.truth.sources[0]!.watts },
  });
  return { baseline, powered, view };
}
