// evaluate: a scene's truth and an answer → what was right and how far off the rest was.
import { distanceToPolygon, type Point } from "../simulate/polygons.js";
import type { Kind, Nudge, Scene, TrueSource } from "../simulate/scene.js";
import type { Answer, AnswerSuspect } from "./answer.js";

/** The score of one chain on one scene. Null: not asked, or not stated. */
export interface Score {
  readonly kind: Kind;
  readonly seed: number;
  readonly chain: "faultglow" | "plain";
  /** Why there is no answer. */
  readonly error: string | null;
  readonly analysisMs: number;
  /** The first part that is not normally warm is the fault; with two faults, the first two are they. */
  readonly rightFirst: boolean | null;
  /** The first hotspot off the normally warm parts lies on the fault, whatever the map says; two faults: the first two. */
  readonly rightPlace: boolean | null;
  /** Hotspots where nothing heats. */
  readonly falseAlarms: number;
  readonly hotspots: number;
  readonly positionErrorPx: number | null;
  /** Error ÷ stated uncertainty, x and y. */
  readonly positionZ: Point | null;
  readonly alignErrorPx: number;
  readonly wattsError: number | null;
  readonly wattsInside90: boolean | null;
  readonly plateKnown: boolean;
  /** The board had come to rest: the heat shown is the heat fed. */
  readonly settled: boolean;
  readonly topProbability: number | null;
}

/** Half-width of a 90 % interval, in standard deviations. */
const NINETY = 1.6449;
/** A hotspot this near to a part that heats, px and mm, is heat: the rise has spread. */
const HEAT_PX = 4;
const HEAT_MM = 3;
/** A hotspot this near to an isolated source is taken to mean it, px. */
const MATCH_PX = 6;

/** Score an answer. */
export function scoreAnswer(scene: Scene, chain: Score["chain"], answer: Answer, analysisMs: number): Score {
  const { truth } = scene;
  const faults = truth.sources.filter((source) => source.fault);
  const ranked = answer.suspects.filter((suspect) => !suspect.normallyWarm);
  const heatReachPx = Math.max(HEAT_PX, HEAT_MM / truth.mmPerPx);
  const falseAlarms = answer.hotspots.filter((spot) =>
    truth.sources.every((source) => distanceToPolygon(source.polygonPx, ...spot.px) > heatReachPx),
  ).length;
  return {
    kind: scene.kind,
    seed: scene.seed,
    chain,
    error: null,
    analysisMs,
    rightFirst: faults.length === 0 ? null : namesFaults(ranked, faults),
    rightPlace: faults.length === 0 ? null : placesFaults(scene, answer, faults),
    falseAlarms,
    hotspots: answer.hotspots.length,
    ...scorePosition(answer, truth.sources),
    alignErrorPx: alignError(answer.transform, scene),
    ...scoreWatts(answer, ranked, faults),
    plateKnown: truth.plate.known,
    settled: isSettled(scene),
    topProbability: faults.length === 1 ? (ranked[0]?.probability ?? null) : null,
  };
}

/** Three time constants after power-on the board shows 95 % of its last rise. */
function isSettled({ truth }: Scene): boolean {
  const last = truth.timesS[truth.timesS.length - 1]!;
  return last > (3 * truth.plate.heatCapacityJPerM2K) / truth.plate.lossWPerM2K;
}

function namesFaults(ranked: readonly AnswerSuspect[], faults: readonly TrueSource[]): boolean {
  const named = ranked.slice(0, faults.length);
  return faults.every((fault) => named.some((one) => one.ref === fault.ref && one.side === fault.side));
}

/** Place alone: within a pixel of the fault's body. */
function placesFaults(scene: Scene, answer: Answer, faults: readonly TrueSource[]): boolean {
  const warm = scene.truth.sources.filter((source) => !source.fault);
  const off = answer.hotspots.filter((spot) =>
    warm.every((source) => distanceToPolygon(source.polygonPx, ...spot.px) > 1),
  );
  const first = off.slice(0, faults.length);
  return faults.every((fault) => first.some((spot) => distanceToPolygon(fault.polygonPx, ...spot.px) <= 1));
}

/** Isolated sources only: where one part heats. */
function scorePosition(
  answer: Answer,
  sources: readonly TrueSource[],
): Pick<Score, "positionErrorPx" | "positionZ"> {
  const source = sources[0];
  if (source === undefined || sources.length > 1) return { positionErrorPx: null, positionZ: null };
  let best: { error: number; z: Point | null } | null = null;
  for (const spot of answer.hotspots) {
    const dx = spot.px[0] - source.px[0];
    const dy = spot.px[1] - source.px[1];
    const error = Math.hypot(dx, dy);
    if (error > MATCH_PX || (best !== null && best.error <= error)) continue;
    best = { error, z: spot.sigmaPx === null ? null : [dx / spot.sigmaPx, dy / spot.sigmaPx] };
  }
  return { positionErrorPx: best?.error ?? null, positionZ: best?.z ?? null };
}

function scoreWatts(
  answer: Answer,
  ranked: readonly AnswerSuspect[],
  faults: readonly TrueSource[],
): Pick<Score, "wattsError" | "wattsInside90"> {
  const fault = faults[0];
  const nothing = { wattsError: null, wattsInside90: null };
  if (fault === undefined) return nothing;
  const suspect = ranked.find((one) => one.ref === fault.ref && one.side === fault.side);
  if (suspect === undefined || suspect.powerW === null) return nothing;
  const spot = suspect.hotspot === null ? undefined : answer.hotspots[suspect.hotspot - 1];
  const off = suspect.powerW - fault.watts;
  const sigma = spot?.powerSigmaW ?? null;
  return {
    wattsError: Math.abs(off) / fault.watts,
    wattsInside90: sigma === null ? null : Math.abs(off) <= NINETY * sigma,
  };
}

/** Root mean square distance, over the board's pixels, between where the answer and the truth put them. */
export function alignError(estimate: Nudge, scene: Scene): number {
  const { width, height } = scene.baseline[0]!;
  const e = motion(estimate, width, height);
  const t = motion(scene.truth.transform, width, height);
  let sum = 0;
  let count = 0;
  for (let j = 0, k = 0; j < height; j++) {
    for (let i = 0; i < width; i++, k++) {
      if (scene.truth.boardMask[k] === 0) continue;
      const [ex, ey] = e(i, j);
      const [tx, ty] = t(i, j);
      sum += (ex - tx) ** 2 + (ey - ty) ** 2;
      count++;
    }
  }
  return Math.sqrt(sum / count);
}

/** p′ = c + R(p − c) + t, as the contract has it. */
function motion(nudge: Nudge, width: number, height: number): (x: number, y: number) => Point {
  const a = (nudge.rotationDeg * Math.PI) / 180;
  const cx = (width - 1) / 2;
  const cy = (height - 1) / 2;
  return (x, y) => [
    cx + Math.cos(a) * (x - cx) - Math.sin(a) * (y - cy) + nudge.dxPx,
    cy + Math.sin(a) * (x - cx) + Math.cos(a) * (y - cy) + nudge.dyPx,
  ];
}

/** The score of a chain that gave no answer: nothing found, nothing right. */
export function scoreFailure(scene: Scene, chain: Score["chain"], error: string, analysisMs: number): Score {
  const powered = scene.truth.sources.length > 0;
  return {
    kind: scene.kind,
    seed: scene.seed,
    chain,
    error,
    analysisMs,
    rightFirst: powered ? false : null,
    rightPlace: powered ? false : null,
    // No answer is no clean bill: it counts against the chain like an alarm.
    falseAlarms: 1,
    hotspots: 0,
    positionErrorPx: null,
    positionZ: null,
    alignErrorPx: Number.NaN,
    wattsError: null,
    wattsInside90: null,
    plateKnown: scene.truth.plate.known,
    settled: isSettled(scene),
    topProbability: null,
  };
}
