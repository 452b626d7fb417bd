// tests: a few words on what heats → findings of a small board, as `find` would give them.
import type { Findings, Hotspot } from "../../../src/findings/findings-schema.js";
import type { BoardIdentity, PartFindings } from "../../../src/findings/parts-schema.js";

type Side = "top" | "bottom";

/** Parts of the board: name, side, centre, nets, whether it is warm anyway. */
const PARTS: readonly (readonly [string, Side, readonly [number, number], readonly string[], boolean])[] = [
  ["C6", "top", [12, 7], ["VSYS", "GND"], false],
  ["U6", "top", [31, 19], ["VLED", "GND"], false],
  ["U1", "top", [45, 8], ["VCORE", "GND"], true],
  ["U2", "top", [23, 28], ["VSYS", "VCORE"], true],
  ["R4", "top", [52, 26], ["VSYS"], false],
  ["Q3", "bottom", [13, 7.5], ["VSYS"], false],
  ["U9", "bottom", [40, 20], [], false],
];

/** One part that heats. */
interface Heat {
  readonly ref: string;
  readonly powerW: number;
  /** Contrast of its face; ten kelvins a watt if not said. */
  readonly contrastK?: number;
  readonly probability?: number;
  readonly flags?: readonly string[];
  readonly areaPx?: number;
  /** Moved by so much, mm. */
  readonly offMm?: readonly [number, number];
}

/** What may differ from a plain attempt. */
export interface AttemptWords {
  readonly heat?: readonly Heat[];
  readonly sides?: readonly Side[];
  readonly volts?: number | null;
  readonly amps?: number | null;
  readonly limitK?: number;
  readonly limitW?: number;
  readonly board?: Partial<BoardIdentity>;
  /** Refs that the map does not have. */
  readonly without?: readonly string[];
  /** Turn of the camera: where board millimetres lie in the frame. */
  readonly pixelOf?: (mm: readonly [number, number]) => [number, number];
}

/** Make findings of one attempt. */
export function makeFindings(words: AttemptWords = {}): Findings {
  const { heat = [], sides = ["top"], volts = 3.7, amps = 0.2, limitK = 0.3, limitW = 0.01 } = words;
  const pixelOf = words.pixelOf ?? (([x, y]) => [3 * x + 5, 3 * y + 9]);
  const parts = PARTS.filter(([ref]) => !(words.without ?? []).includes(ref)).map(
    ([ref, side, [x, y], nets, normallyWarm]): PartFindings => {
      const own = heat.findIndex((one) => one.ref === ref);
      const one = heat[own];
      const seen = sides.includes(side);
      const contrastK = one === undefined ? 0.01 : (one.contrastK ?? 10 * one.powerW);
      return {
        ref,
        side,
        normallyWarm,
        nets: [...nets],
        boundsMm: [x - 2, y - 1.5, x + 2, y + 1.5],
        seen,
        shiny: false,
        hotspot: one === undefined ? null : own + 1,
        powerW: one?.powerW ?? null,
        powerSigmaW: one === undefined ? null : 0.5 * one.powerW,
        powerNoiseW: one === undefined ? null : 0.02 * one.powerW,
        riseK: seen ? 1.2 * contrastK + 0.05 : 0.3,
        riseSigmaK: 0.02,
        contrastK: seen ? contrastK : null,
        contrastSigmaK: seen ? 0.03 : null,
        contrastGain: seen ? 0.4 : null,
        limitW,
        limitK: seen ? limitK : null,
      };
    },
  );
  return {
    kind: "faultglow/findings",
    version: 1,
    tool: { name: "faultglow", version: "0.0.1" },
    inputs: {
      baseline: [{ file: "off.csv", sha256: "0".repeat(64), width: 160, height: 120 }],
      powered: [{ file: "on.csv", sha256: "1".repeat(64), width: 160, height: 120 }],
      board: "board.json",
      view: "view.json",
      scale: null,
      rateHz: null,
      volts,
      amps,
    },
    options: {},
    alignment: { dxPx: 0.4, dyPx: -0.2, rotationDeg: 0, uncertaintyPx: 0.05, trusted: true },
    noise: { sigmaK: 0.05, testedSigmaK: 0.02 },
    threshold: { riseK: 0.3, falseAlarmsPerFrame: 0.01, powerW: limitW },
    hotspots: heat.map((one, k) => hotspotOf(one, k + 1, pixelOf)),
    suspects: [],
    artefacts: [],
    unexplained: null,
    verdict: "",
    nextStep: null,
    board: {
      name: "meter",
      outline: "a1",
      parts: words.without === undefined ? "b1" : "b2",
      sides: [...sides],
      spread: { state: "rising", lengthMm: 6.8 },
      ...words.board,
    },
    parts,
    notes: [],
  };
}

/** The same findings as if no board had been given. */
export function withoutBoard({ board: _, parts: __, ...findings }: Findings): Findings {
  return {
    ...findings,
    hotspots: findings.hotspots.map((spot) => ({
      ...spot,
      sourceMm: null,
      sourceSigmaMm: null,
      nearest: [],
    })),
  };
}

function hotspotOf(
  { ref, powerW, contrastK, probability = 0.97, flags = [], areaPx = 40, offMm = [0, 0] }: Heat,
  rank: number,
  pixelOf: (mm: readonly [number, number]) => [number, number],
): Hotspot {
  const [, side, [x, y]] = PARTS.find(([name]) => name === ref)!;
  const sourceMm: [number, number] = [x + offMm[0], y + offMm[1]];
  return {
    rank,
    peakRiseK: 1.2 * (contrastK ?? 10 * powerW),
    peakPx: [1, 2],
    sourcePx: pixelOf(sourceMm),
    sourceSigmaPx: 0.2,
    sourceMm,
    sourceSigmaMm: 0.1,
    areaPx,
    areaMm2: areaPx / 9,
    widthPx: 3,
    excessKPx: 20,
    significance: 40,
    powerW,
    powerSigmaW: 0.5 * powerW,
    onsetS: null,
    flags: [...flags],
    nearest: [{ ref, side, distanceMm: 0, probability }],
  };
}
