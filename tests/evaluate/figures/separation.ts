// evaluate: two equal parts 1 … 8 px apart, or one alone, at a peak of 30 σ → the least distance at which they are told
// apart.
import { type ScenePlan, stageScene } from "../../simulate/build-scene.js";
import { applyTo, type Camera, type Matrix } from "../../simulate/camera.js";
import { makePlateGrid } from "../../simulate/plate.js";
import { type Point, turnedRectangle } from "../../simulate/polygons.js";
import { makeRandom, type Random } from "../../simulate/random.js";
import { renderFrame, type Scenery } from "../../simulate/render.js";
import type { Part, TrueBoard } from "../../simulate/scene.js";
import { randomMirrors, randomScenery } from "../../simulate/scenery.js";
import { solveHeat } from "../../simulate/solve-heat.js";
import { tellMap, tellView } from "../../simulate/tell-tool.js";
import type { Figure } from "../figure.js";
import { shareOf } from "../statistics.js";
import { type Analyse, asFrame, type MeasuredFindings, type MeasuredFrame } from "../tool-chain.js";
import type { SpecialFigure, TrialValues } from "./special.js";

const [WIDTH, HEIGHT] = [104, 80];
const PITCH_MM = 0.5;
const SNR = 30;
/** Noise of a pixel of the difference, K. */
const NOISE_K = 0.05;
const FARTHEST_PX = 8;
/** One trial in three has one part alone: there the false splits are counted. */
const ALONE_EVERY = 3;
/** Told apart often enough to rely on. */
const RELIABLE = 0.9;
const MOST_FALSE_SPLITS = 0.01;
/** A second hotspot farther off than this has nothing to do with the source, px. */
const NEAR_PX = 10;

export const SEPARATION: SpecialFigure = {
  name: "separation",
  trials: 450,
  run: async (analyse, index, seed) => runTrial(analyse, index, seed),
  summarise,
};

function runTrial(analyse: Analyse, index: number, seed: number): TrialValues {
  const random = makeRandom(`separation/${seed}/${index}`);
  const apartPx =
    index % ALONE_EVERY === 0
      ? 0
      : 1 + ((Math.floor(index / ALONE_EVERY) * 2 + (index % ALONE_EVERY) - 1) % FARTHEST_PX);
  const board = fineBoard(random);
  const row = board.parts.filter((part) => part.ref.startsWith("C"));
  const first = random.integer(0, row.length - 1 - FARTHEST_PX);
  const heating = apartPx === 0 ? [row[first + 4]!] : [row[first]!, row[first + apartPx]!];
  const plan = planOf(random, board, heating);
  const stage = stageScene(plan);
  const { camera } = plan;
  const show = (heat: Pick<Scenery, "plateRise" | "bodyRise">): Float32Array =>
    renderFrame(stage.pose, { ...stage.after, ...heat }, camera.blurPx);
  // The strength is that of one part alone.
  const alone = solveHeat({ ...plan, chosen: plan.chosen.slice(0, 1) }, NOISE_K, (heat) =>
    show(heat).reduce((best, value, k) => Math.max(best, value - stage.idealAfter[k]!), 0),
  );
  const heat = solveHeat({ ...plan, strength: { by: "watts", value: alone.watts[0]! } }, NOISE_K, () => 0);
  const noisy = (ideal: Float32Array): MeasuredFrame => {
    const data = ideal.map((value) => value + NOISE_K * Math.SQRT1_2 * random.normal());
    return asFrame({ unit: "degC", width: WIDTH, height: HEIGHT, data }, 0);
  };
  const frames = { baseline: [noisy(stage.ideal)], powered: [noisy(show(heat.at(0)))] };
  const plate = { conductanceWPerK: CONDUCTANCE_W_PER_K, ...plan.constants, known: true, toldRight: true };
  const map = tellMap(random, board, plate, {
    reachMm: 0,
    cornerMm: 0,
    missing: new Set(),
    plateFactors: null,
  });
  const view = tellView(random, board, camera, "top");
  const truth = heat.centers.map((mm) => applyTo(camera.boardToFrame, ...mm));
  const with_ = analyse({ ...frames, board: map, view }).findings;
  const without = analyse(frames).findings;
  return {
    apartPx,
    board: isSplit(placesOf(with_, camera, board), truth, apartPx),
    plain: isSplit(
      without.hotspots.map((spot) => [...spot.sourcePx]),
      truth,
      apartPx,
    ),
  };
}

/** Where the tool says it heats, px: each hotspot's likeliest part, or the hotspot itself where it names none. */
function placesOf({ hotspots, suspects }: MeasuredFindings, camera: Camera, board: TrueBoard): Point[] {
  return hotspots.map(({ rank, sourcePx }): Point => {
    const ref = suspects.find((one) => one.hotspot === rank)?.ref;
    const part = board.parts.find((one) => one.ref === ref);
    return part === undefined ? [...sourcePx] : applyTo(camera.boardToFrame, ...part.centerMm);
  });
}

/** Two parts: the first two places stand each nearer to its own part than half the distance. One part: there is a
 *  second place.
 */
export function isSplit(places: readonly Point[], truth: readonly Point[], apartPx: number): boolean {
  const off = (p: Point, q: Point): number => Math.hypot(p[0] - q[0], p[1] - q[1]);
  if (truth.length === 1) return places.filter((place) => off(place, truth[0]!) < NEAR_PX).length > 1;
  const [a, b] = places;
  if (a === undefined || b === undefined) return false;
  const [p, q] = truth as [Point, Point];
  const straight = Math.max(off(a, p), off(b, q));
  const crossed = Math.max(off(a, q), off(b, p));
  return Math.min(straight, crossed) < apartPx / 2;
}

/** Heat reaches 7 mm in the time of the pair: the rise stands at the parts, not in the whole board. */
const CONDUCTANCE_W_PER_K = 0.008;
const PAIR_S = 3;
const [BOARD_W, BOARD_H] = [40, 30] as const;

/** A board of 40 × 30 mm with a row of thirteen small parts, one to a pixel, and two chips. */
function fineBoard(random: Random): TrueBoard {
  const part = (ref: string, kind: Part["kind"], center: Point, w: number, h: number): Part => ({
    ref,
    label: "",
    side: "top",
    kind,
    centerMm: center,
    sizeMm: [w, h],
    angleDeg: 0,
    polygon: turnedRectangle(center, w, h, 0),
    finish: kind === "ic" ? "moulded" : "ceramic",
    emissivity: kind === "ic" ? 0.93 : 0.9,
    finishDeclared: true,
    nets: [],
    normallyWarm: false,
    bodyKPerW: 50,
    bodyTimeS: 0.5,
    dieOffset: [0, 0],
  });
  const y = random.uniform(13, 17);
  return {
    name: "fine pitch",
    thicknessMm: 0.8,
    outline: [
      [0, 0],
      [BOARD_W, 0],
      [BOARD_W, BOARD_H],
      [0, BOARD_H],
    ],
    parts: [
      ...Array.from({ length: 13 }, (_, i) => part(`C${i + 1}`, "passive", [16 + PITCH_MM * i, y], 0.4, 0.8)),
      part("U1", "ic", [9, 8], 5, 4),
      part("U2", "ic", [31, 23], 4, 3),
    ],
    unnamed: [],
  };
}

function planOf(random: Random, board: TrueBoard, heating: readonly Part[]): ScenePlan {
  const camera = straightCamera(random);
  const grid = makePlateGrid(board.outline, 0.3, () => CONDUCTANCE_W_PER_K);
  const scenery = randomScenery(random, board, "top", camera, grid, 23);
  const room = { roomC: 22, slopeK: [0, 0] as const, blobs: [] };
  return {
    kind: "near-parts",
    seed: 0,
    board,
    side: "top",
    camera,
    grid,
    constants: { lossWPerM2K: 20, heatCapacityJPerM2K: 1800 },
    plateKnown: true,
    chosen: heating.map((part) => ({ part, share: 1, fault: true })),
    strength: { by: "peakK", value: SNR * NOISE_K },
    timesS: [PAIR_S],
    rateHz: null,
    baselineFrames: 1,
    poweredFrames: 1,
    nudge: { dxPx: 0, dyPx: 0, rotationDeg: 0 },
    scenery,
    mirrors: randomMirrors(random, scenery.parts.length),
    roomBefore: room,
    roomAfter: room,
    sensor: {
      width: WIDTH,
      height: HEIGHT,
      sigmaK: NOISE_K,
      pixelSigmaK: new Float32Array(WIDTH * HEIGHT).fill(NOISE_K),
      patternK: new Float32Array(WIDTH * HEIGHT),
      bad: [],
    },
    stepK: null,
    supply: null,
  };
}

/** Half a millimetre a pixel, turned by up to 12°, at any fraction of a pixel. */
function straightCamera(random: Random): Camera {
  const angle = (random.uniform(-12, 12) * Math.PI) / 180;
  const [c, s] = [Math.cos(angle) / PITCH_MM, Math.sin(angle) / PITCH_MM];
  const cx = WIDTH / 2 + random.uniform(-1, 1);
  const cy = HEIGHT / 2 + random.uniform(-1, 1);
  // biome-ignore format: a matrix reads best as one
  const boardToFrame: Matrix = [
    c, -s, cx - c * (BOARD_W / 2) + s * (BOARD_H / 2),
    s, c, cy - s * (BOARD_W / 2) - c * (BOARD_H / 2),
    0, 0, 1,
  ];
  return { width: WIDTH, height: HEIGHT, boardToFrame, blurPx: 0.8, mmPerPx: PITCH_MM };
}

function summarise(trials: readonly TrialValues[]): Figure[] {
  const figure = (way: "board" | "plain", words: string, held: boolean): Figure => {
    const shares = Array.from({ length: FARTHEST_PX + 1 }, (_, apart) =>
      shareOf(trials.filter((trial) => trial.apartPx === apart).map((trial) => trial[way] === true)),
    );
    const split = shares[0];
    let least: number | null = null;
    for (let apart = FARTHEST_PX; apart >= 1 && (shares[apart]?.share ?? 0) >= RELIABLE; apart--)
      least = apart;
    const honest = (split?.share ?? 1) <= MOST_FALSE_SPLITS;
    const text = shares.slice(1).map((share, i) => `${i + 1}: ${share?.share.toFixed(2) ?? "–"}`);
    return {
      name: `two parts told apart at SNR ${SNR}, ${words}`,
      // Not told apart at any distance tried, or false splits: farther than was tried, which reaches nothing.
      value: trials.length === 0 ? null : honest && least !== null ? least : Number.POSITIVE_INFINITY,
      low: null,
      high: null,
      of: trials.length,
      unit: "px",
      digits: 0,
      bar: held ? { atMost: 4 } : null,
      aim: held ? { atMost: 2 } : null,
      remark: `false splits ${split?.share.toFixed(3) ?? "–"} [${split?.low.toFixed(3)} ${split?.high.toFixed(3)}]; told apart by px ${text.join(", ")}`,
    };
  };
  return [figure("board", "with a board", true), figure("plain", "without a board", false)];
}
