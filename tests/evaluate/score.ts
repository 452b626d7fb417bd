// evaluate: a scene's truth and an answer → what was right and how far off the rest was.
import { distanceToPolygon, type Point } from "../simulate/polygons.js";
import type { Kind, Scene, TrueSource } from "../simulate/scene.js";
import { alignError } from "./align-error.js";
import type { Answer, AnswerSuspect } from "./answer.js";
import { type OnsetScore, scoreOnsets } from "./score-onsets.js";
import { Z90 } from "./statistics.js";

/** A probability that was stated, and whether it came true. */
export type Call = readonly [probability: number, cameTrue: boolean];

/** The score of one chain on one scene. Null: not asked, or not stated. */
export interface Score {
  readonly kind: Kind;
  readonly seed: number;
  readonly chain: "faultglow" | "plain";
  /** Which ingredient was left out; "whole" if none. */
  readonly variant: string;
  /** Why there is no answer. */
  readonly error: string | null;
  readonly analysisMs: number;
  /** The first part that is not normally warm is the fault; with two faults, the first two are they. Where the map does
   *  not know the part: the rest outweighs every part that is named. */
  readonly rightFirst: boolean | null;
  /** The first hotspot off the normally warm parts lies on the fault, whatever the map says; two faults: the first
   *  two. */
  readonly rightPlace: boolean | null;
  /** Hotspots where nothing heats. */
  readonly falseAlarms: number;
  readonly hotspots: number;
  readonly positionErrorPx: number | null;
  /** Error ÷ stated uncertainty, x and y. */
  readonly positionZ: Point | null;
  readonly alignErrorPx: number;
  readonly nudged: boolean;
  readonly wattsError: number | null;
  readonly wattsInside90: boolean | null;
  /** Whether the map tells the plate's constants, and tells them as they are. */
  readonly plateTold: "right" | "off" | "no";
  /** At rest the heat shown is the heat fed. */
  readonly heating: "rest" | "rising" | "burst" | "cycled";
  readonly topProbability: number | null;
  /** Every suspect that is not normally warm: the probability stated, and whether it was the fault; a fault that was
   *  not named at all counts as stated with 0. */
  readonly calls: readonly Call[];
  /** The rest that was stated for none of the named parts, and whether it was none. */
  readonly restCall: Call | null;
  readonly onsets: readonly OnsetScore[];
  /** Two sides: the probability given to the side that has the fault, of all given to named parts. */
  readonly sideProbability: number | null;
}

/** A hotspot this near to a part that heats, px and mm, is heat: the rise has spread. */
const HEAT_PX = 4;
const HEAT_MM = 3;
/** A hotspot this near to an isolated source is taken to mean it, px. */
const MATCH_PX = 6;

/** The scores of the tool with nothing left out. */
export function ofWholeTool(scores: readonly Score[]): Score[] {
  return scores.filter(({ chain, variant }) => chain === "faultglow" && variant === "whole");
}

/** Score an answer. */
export function scoreAnswer(
  scene: Scene,
  chain: Score["chain"],
  answer: Answer,
  analysisMs: number,
  variant = "whole",
): Score {
  const { truth } = scene;
  const faults = truth.sources.filter((source) => source.fault);
  const ranked = answer.suspects.filter((suspect) => !suspect.normallyWarm);
  const heatReachPx = Math.max(HEAT_PX, HEAT_MM / truth.mmPerPx);
  const falseAlarms = answer.hotspots.filter((spot) =>
    truth.sources.every((source) => distanceToPolygon(source.polygonPx, ...spot.px) > heatReachPx),
  ).length;
  return {
    ...aboutScene(scene, chain, variant),
    error: null,
    analysisMs,
    rightFirst: faults.length === 0 ? null : namesFaults(answer, ranked, faults),
    rightPlace: faults.length === 0 ? null : placesFaults(scene, answer, faults),
    falseAlarms,
    hotspots: answer.hotspots.length,
    ...scorePosition(answer, truth.sources),
    alignErrorPx: alignError(answer.transform, scene),
    ...scoreWatts(answer, ranked, faults),
    topProbability: faults.length === 1 && faults[0]!.listed ? (ranked[0]?.probability ?? null) : null,
    calls: callsOf(ranked, faults),
    restCall: restCallOf(answer, ranked, faults),
    onsets: scoreOnsets(scene, answer),
    sideProbability: scene.otherSide === null || faults.length !== 1 ? null : sideShare(ranked, faults[0]!),
  };
}

/** The score of a chain that gave no answer: nothing found, nothing right. */
export function scoreFailure(
  scene: Scene,
  chain: Score["chain"],
  error: string,
  analysisMs: number,
  variant = "whole",
): Score {
  const powered = scene.truth.sources.length > 0;
  return {
    ...aboutScene(scene, chain, variant),
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
    topProbability: null,
    calls: [],
    restCall: null,
    onsets: [],
    sideProbability: null,
  };
}

function aboutScene(
  { kind, seed, truth, rateHz, cycleS }: Scene,
  chain: Score["chain"],
  variant: string,
): Pick<Score, "kind" | "seed" | "chain" | "variant" | "nudged" | "plateTold" | "heating"> {
  const { dxPx, dyPx, rotationDeg } = truth.transform;
  const lastS = truth.timesS[truth.timesS.length - 1]!;
  // Three time constants after power-on the board shows 95 % of its last rise.
  const atRest = lastS > (3 * truth.plate.heatCapacityJPerM2K) / truth.plate.lossWPerM2K;
  const pair = atRest ? "rest" : "rising";
  return {
    kind,
    seed,
    chain,
    variant,
    nudged: dxPx !== 0 || dyPx !== 0 || rotationDeg !== 0,
    plateTold: !truth.plate.known ? "no" : truth.plate.toldRight ? "right" : "off",
    heating: cycleS !== null ? "cycled" : rateHz !== null ? "burst" : pair,
  };
}

function namesFaults(
  answer: Answer,
  ranked: readonly AnswerSuspect[],
  faults: readonly TrueSource[],
): boolean {
  if (faults.some((fault) => !fault.listed)) {
    const most = Math.max(0, ...ranked.map((one) => one.probability ?? 0));
    return (answer.unexplained ?? (ranked.length === 0 ? 1 : 0)) > most;
  }
  const named = ranked.slice(0, faults.length);
  return faults.every((fault) => named.some((one) => isPart(one, fault)));
}

function isPart(suspect: AnswerSuspect, source: TrueSource): boolean {
  return suspect.ref === source.ref && suspect.side === source.side;
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
  const suspect = ranked.find((one) => isPart(one, fault));
  if (suspect === undefined || suspect.powerW === null) return nothing;
  const spot = suspect.hotspot === null ? undefined : answer.hotspots[suspect.hotspot - 1];
  const off = suspect.powerW - fault.watts;
  const sigma = spot?.powerSigmaW ?? null;
  return {
    wattsError: Math.abs(off) / fault.watts,
    wattsInside90: sigma === null ? null : Math.abs(off) <= Z90 * sigma,
  };
}

function callsOf(ranked: readonly AnswerSuspect[], faults: readonly TrueSource[]): Call[] {
  const stated = ranked.filter((one) => one.probability !== null);
  if (stated.length < ranked.length) return [];
  const calls = stated.map((one): Call => [one.probability!, faults.some((fault) => isPart(one, fault))]);
  const unnamed = faults.filter((fault) => fault.listed && !stated.some((one) => isPart(one, fault)));
  return [...calls, ...unnamed.map((): Call => [0, true])];
}

/** Asked where something is said to heat, and one fault or none is there. */
function restCallOf(
  answer: Answer,
  ranked: readonly AnswerSuspect[],
  faults: readonly TrueSource[],
): Call | null {
  const rest = answer.unexplained ?? null;
  if (rest === null || ranked.length === 0 || faults.length > 1) return null;
  return [rest, faults.every((fault) => !ranked.some((one) => isPart(one, fault)))];
}

function sideShare(ranked: readonly AnswerSuspect[], fault: TrueSource): number | null {
  let all = 0;
  let right = 0;
  for (const { side, probability } of ranked) {
    if (probability === null) return null;
    all += probability;
    if (side === fault.side) right += probability;
  }
  return all === 0 ? null : right / all;
}
