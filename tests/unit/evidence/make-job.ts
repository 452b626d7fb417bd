// tests: a few words on attempts, actions and readings → a job in memory, without frames.
import type { BoardMap } from "../../../src/board/board-schema.js";
import type { Findings } from "../../../src/findings/findings-schema.js";
import type { Action } from "../../../src/job/entry-schema.js";
import type { Job } from "../../../src/job/job.js";
import type { Reading, Reference } from "../../../src/readings/reading-schema.js";
import { tellJob } from "../../simulate/tell-job.js";

const HASH = "0".repeat(64);

/** An invented board: two parts one behind the other, two more on the rail of the first, one elsewhere, one that is
 *  warm. */
export const BOARD: BoardMap = {
  kind: "faultglow/board",
  version: 1,
  name: "lamp driver",
  outline: [
    [0, 0],
    [40, 0],
    [40, 25],
    [0, 25],
  ],
  regions: [
    region("C7", "top", 10, 8, ["VLED", "GND"]),
    region("U3", "bottom", 10.5, 8.5, ["VIO", "GND"]),
    region("L2", "top", 22, 6, ["VLED", "VSW"]),
    region("U9", "top", 30, 18, ["VIO", "VLED", "GND"]),
    region("R4", "bottom", 33, 5, ["VSW", "GND"]),
    { ...region("U1", "top", 18, 18, ["VCORE", "GND"]), normallyWarm: true },
  ],
};

function region(ref: string, side: "top" | "bottom", x: number, y: number, nets: string[]) {
  const corner = (dx: number, dy: number): [number, number] => [x + dx, y + dy];
  return { ref, side, nets, polygon: [corner(0, 0), corner(3, 0), corner(3, 2), corner(0, 2)] };
}

/** What an attempt is to say; each of `heat` is a hotspot with the probabilities of its parts. */
export interface Telling {
  readonly heat: readonly Readonly<Record<string, number>>[];
  readonly side?: "top" | "bottom";
  readonly view?: string;
  /** Parts that show the heat of a healthy board. */
  readonly warm?: readonly string[];
  readonly powerW?: number;
  readonly limitsW?: Readonly<Record<string, number | null>>;
  /** What the fit would explain by heat in parts that it does not name. */
  readonly tried?: Readonly<Record<string, number>>;
  readonly healthy?: boolean;
  readonly withoutBoard?: boolean;
  /** Marks on each of its hotspots. */
  readonly flags?: readonly string[];
  /** What it advises by itself. */
  readonly nextStep?: string;
  readonly nextStepUnmapped?: string;
  /** Hash of its powered frame. */
  readonly frame?: string;
}

/** Something that is added to a job, in its order. */
export type Step =
  | { readonly attempt: Telling }
  | { readonly action: Action }
  | { readonly reading: Partial<Reading> & { readonly value: number | null } }
  | { readonly reference: Partial<Reference> & { readonly value: number | null } };

/** Make a job of steps; each is one line of its journal. */
export function makeJob(steps: readonly Step[], board: BoardMap = BOARD): Job {
  return tellJob(
    board,
    steps.map((step) => {
      if ("attempt" in step) {
        const { side = "top", view, healthy, withoutBoard } = step.attempt;
        return { findings: makeFindings(step.attempt, board), side, view, healthy, withoutBoard };
      }
      if ("action" in step) return step;
      return "reading" in step
        ? { reading: asReading(step.reading) }
        : { reference: asReading(step.reference) };
    }),
  );
}

function nothingOf(tried: Readonly<Record<string, number>>): Record<string, null> {
  return Object.fromEntries(Object.keys(tried).map((ref) => [ref, null]));
}

function asReading<T extends Partial<Reading> & { readonly value: number | null }>(part: T): T & Reading {
  return { net: "VLED", measure: "diode", overRange: part.value === null, raw: String(part.value), ...part };
}

function makeFindings(telling: Telling, map: BoardMap): Findings {
  const { heat, warm = [], powerW = 0.2, limitsW = {}, tried = {}, withoutBoard = false } = telling;
  const { flags = [], nextStep = null, frame = HASH } = telling;
  const sideOf = (ref: string) => map.regions.find((one) => one.ref === ref)!.side;
  const heats: readonly Readonly<Record<string, number>>[] = withoutBoard
    ? heat.map(() => ({}))
    : [...heat, ...warm.map((ref) => ({ [ref]: 0.97 }))];
  const hotspots = heats.map((parts, k): Findings["hotspots"][number] => ({
    rank: k + 1,
    peakRiseK: 3,
    peakPx: [60, 41],
    sourcePx: [60.2, 41.3],
    sourceSigmaPx: 0.2,
    sourceMm: [11.5, 9.2],
    sourceSigmaMm: 0.05,
    areaPx: 40,
    areaMm2: 2.5,
    widthPx: 5,
    excessKPx: 60,
    significance: 30,
    powerW,
    powerSigmaW: 0.02,
    onsetS: null,
    flags: [...flags],
    nearest: Object.entries(parts).map(([ref, probability]) => ({
      ref,
      side: sideOf(ref),
      distanceMm: 0,
      probability,
    })),
  }));
  return {
    kind: "faultglow/findings",
    version: 1,
    tool: { name: "faultglow", version: "0.0.1" },
    inputs: {
      baseline: [{ file: "b.csv", sha256: HASH, width: 160, height: 120 }],
      powered: [{ file: "p.csv", sha256: frame, width: 160, height: 120 }],
      board: null,
      view: null,
      scale: null,
      rateHz: null,
      volts: null,
      amps: null,
    },
    options: {},
    alignment: { dxPx: 0, dyPx: 0, rotationDeg: 0, uncertaintyPx: 0.05, trusted: true },
    noise: { sigmaK: 0.05, testedSigmaK: 0.02 },
    threshold: { riseK: 0.2, falseAlarmsPerFrame: 0.01 },
    hotspots,
    suspects: hotspots.flatMap(({ rank, nearest }) =>
      nearest.map(({ ref, side, probability }) => ({
        ref,
        side,
        probability,
        powerW,
        normallyWarm: warm.includes(ref),
        hotspot: rank,
        why: [],
      })),
    ),
    artefacts: [],
    unexplained: withoutBoard ? null : 0.05,
    verdict: "",
    nextStep,
    ...(telling.nextStepUnmapped === undefined ? {} : { nextStepUnmapped: telling.nextStepUnmapped }),
    parts: Object.entries({ ...nothingOf(tried), ...limitsW }).map(
      ([ref, limitW]): NonNullable<Findings["parts"]>[number] => ({
        ref,
        side: sideOf(ref),
        normallyWarm: false,
        boundsMm: [0, 0, 1, 1],
        seen: limitW !== null,
        shiny: false,
        hotspot: null,
        powerW: null,
        powerSigmaW: null,
        powerNoiseW: null,
        riseK: null,
        riseSigmaK: null,
        contrastK: null,
        contrastSigmaK: null,
        contrastGain: null,
        limitW,
        limitK: null,
        ...(tried[ref] === undefined ? {} : { triedEvidence: tried[ref], triedW: 0.01, triedSigmaW: 0.002 }),
      }),
    ),
    notes: [],
  };
}
