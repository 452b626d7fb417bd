// A made-up analysis for the tests of the writers: Gaussian spots on a small board seen by a 96×70 frame.
import type { BoardMap } from "../../../src/board/board-schema.js";
import type { PlacedView } from "../../../src/board/place-view.js";
import { createRaster } from "../../../src/core/raster.js";
import { boardPoint, framePoint } from "../../../src/core/units.js";
import type { Analysis } from "../../../src/findings/analysis.js";
import type { Findings, Hotspot, Suspect } from "../../../src/findings/findings-schema.js";

export interface MadeSpot {
  readonly x: number;
  readonly y: number;
  readonly peakK: number;
  readonly ref: string;
  readonly probability: number;
  readonly normallyWarm?: boolean;
}

export interface MadeOptions {
  readonly width?: number;
  readonly height?: number;
  readonly spots?: readonly MadeSpot[];
  readonly withBoard?: boolean;
  readonly withEnergy?: boolean;
  readonly withArtefacts?: boolean;
  readonly file?: string;
  readonly verdict?: string;
}

const PX_PER_MM = 1.5;
const ORIGIN_PX = [4, 7] as const;
const THRESHOLD_K = 0.26;
const TESTED_SIGMA_K = 0.05;

export const MADE_SPOTS: readonly MadeSpot[] = [
  { x: 60.3, y: 41.8, peakK: 6.1, ref: "U12", probability: 0.87 },
  { x: 25.4, y: 20.2, peakK: 1.7, ref: "C31", probability: 0.06 },
];

/** 1.2 V × 0.35 A against 0.244 and 0.068 W, whose uncertainties of 0.03 W each err together. */
const MADE_ENERGY: NonNullable<Findings["energy"]> = {
  fedW: 0.42,
  seenW: 0.312,
  seenSigmaW: 0.06,
  missingW: 0.108,
  missingSigmaW: 0.061,
  boardLossW: 0.39,
  boardLossSigmaW: 0.08,
  meaning: "Fed and seen agree, as this made-up text says.",
};

/** Make an analysis whose rasters, findings and board fit each other. */
export function makeAnalysis(options: MadeOptions = {}): Analysis {
  const { width = 96, height = 70, spots = MADE_SPOTS, withBoard = true } = options;
  const baseline = createRaster("degC", width, height);
  const smoothRise = createRaster("K", width, height);
  const significance = createRaster("sigma", width, height);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      const onBoard = x > 4 && y > 7 && x < 91 && y < 58;
      baseline.data[i] = (onBoard ? 24.5 : 22) + 0.01 * x + 0.3 * Math.sin(x / 3) * Math.cos(y / 5);
      for (const spot of spots) {
        smoothRise.data[i]! +=
          spot.peakK * Math.exp(-((x - spot.x) ** 2 + (y - spot.y) ** 2) / (2 * 5.5 ** 2));
      }
      significance.data[i] = smoothRise.data[i]! / TESTED_SIGMA_K;
    }
  }
  const board = withBoard ? makeBoard(spots) : null;
  const rise = createRaster("K", width, height, smoothRise.data.slice());
  return {
    findings: makeFindings(options, spots, width, height),
    baseline,
    rise,
    smoothRise,
    significance,
    hotspotRanks: new Int32Array(width * height),
    board,
    view: withBoard ? makeView() : null,
    fit: null,
    sources: spots.map(() => null),
  };
}

function makeFindings(
  options: MadeOptions,
  spots: readonly MadeSpot[],
  width: number,
  height: number,
): Findings {
  const { withBoard = true, withEnergy = false, withArtefacts = false, file = "baseline.csv" } = options;
  const input = (name: string, fill: string) => ({ file: name, sha256: fill.repeat(64), width, height });
  const first = spots[0];
  return {
    kind: "faultglow/findings",
    version: 1,
    tool: { name: "faultglow", version: "0.0.1" },
    inputs: {
      baseline: [input(file, "a")],
      powered: [input("powered.csv", "b")],
      board: withBoard ? "board.json" : null,
      view: null,
      scale: null,
      rateHz: null,
      volts: withEnergy ? 1.2 : null,
      amps: withEnergy ? 0.35 : null,
    },
    options: { smoothSigmaPx: 1.5, falseAlarmsPerFrame: 0.01 },
    alignment: { dxPx: 0.42, dyPx: -1.31, rotationDeg: 0.12, uncertaintyPx: 0.05, trusted: true },
    noise: { sigmaK: 0.12, testedSigmaK: TESTED_SIGMA_K },
    threshold: { riseK: THRESHOLD_K, falseAlarmsPerFrame: 0.01 },
    hotspots: spots.map((spot, i) => makeHotspot(spot, i + 1, withBoard)),
    suspects: withBoard ? spots.map((spot, i) => makeSuspect(spot, i + 1)) : [],
    artefacts: withArtefacts
      ? [
          {
            kind: "reflection",
            px: [80, 50],
            areaPx: 130,
            riseK: 1.9,
            reason: "the spot moved with the camera",
          },
          {
            kind: "pixel",
            px: [12, 33],
            areaPx: 1,
            riseK: null,
            reason: "one pixel alone, sharper than the optics allow",
          },
        ]
      : [],
    unexplained: withBoard ? 0.07 : null,
    verdict:
      options.verdict ??
      (first === undefined
        ? "Nothing on this board warms by 0.26 K or more."
        : `${first.ref} is the most likely source of heat.`),
    nextStep:
      first === undefined
        ? null
        : "Measure the resistance across the first suspect with the cell disconnected.",
    energy: withEnergy && withBoard ? MADE_ENERGY : null,
    notes: [{ code: "N_NOTHING_HOT", severity: "info", text: "a note that stands here to be printed" }],
  };
}

function makeHotspot(spot: MadeSpot, rank: number, withBoard: boolean): Hotspot {
  return {
    rank,
    peakRiseK: spot.peakK,
    peakPx: [Math.round(spot.x), Math.round(spot.y)],
    sourcePx: [spot.x, spot.y],
    sourceSigmaPx: 0.17,
    sourceMm: withBoard ? [(spot.x - ORIGIN_PX[0]) / PX_PER_MM, (spot.y - ORIGIN_PX[1]) / PX_PER_MM] : null,
    sourceSigmaMm: withBoard ? 0.11 : null,
    areaPx: 61 + rank,
    areaMm2: withBoard ? 27.4 : null,
    widthPx: 5.5,
    excessKPx: 1152,
    significance: spot.peakK / TESTED_SIGMA_K,
    powerW: withBoard ? spot.peakK * 0.04 : null,
    powerSigmaW: withBoard ? 0.03 : null,
    onsetS: null,
    flags: rank === 2 ? ["possibleReflection"] : [],
    nearest: withBoard ? [{ ref: spot.ref, side: "top", distanceMm: 0, probability: spot.probability }] : [],
  };
}

function makeSuspect(spot: MadeSpot, rank: number): Suspect {
  return {
    ref: spot.ref,
    side: "top",
    probability: spot.probability,
    powerW: spot.peakK * 0.04,
    normallyWarm: spot.normallyWarm === true,
    hotspot: rank,
    why: [`the source lies inside ${spot.ref}`, "the rise is sharper than its neighbours'"],
  };
}

function makeBoard(spots: readonly MadeSpot[]): BoardMap {
  const box = (x: number, y: number, w: number, h: number): [number, number][] => [
    [x, y],
    [x + w, y],
    [x + w, y + h],
    [x, y + h],
  ];
  const regions: BoardMap["regions"] = spots.map((spot) => ({
    ref: spot.ref,
    side: "top",
    normallyWarm: spot.normallyWarm === true,
    polygon: box((spot.x - ORIGIN_PX[0]) / PX_PER_MM - 3, (spot.y - ORIGIN_PX[1]) / PX_PER_MM - 2, 6, 4),
  }));
  regions.push({ ref: "J2", side: "top", polygon: box(1, 12, 5, 9) });
  regions.push({ ref: "SH1", side: "top", finish: "bare-metal", polygon: box(44, 24, 11, 8) });
  regions.push({ ref: "L4", side: "bottom", polygon: box(20, 5, 4, 3) });
  return { kind: "faultglow/board", version: 1, name: "made-up board", outline: box(0, 0, 58, 34), regions };
}

function makeView(): PlacedView {
  return {
    side: "top",
    model: "similarity",
    matrix: [PX_PER_MM, 0, ORIGIN_PX[0], 0, PX_PER_MM, ORIGIN_PX[1], 0, 0, 1],
    toFrame: (point) => framePoint(point[0] * PX_PER_MM + ORIGIN_PX[0], point[1] * PX_PER_MM + ORIGIN_PX[1]),
    toBoard: (point) =>
      boardPoint((point[0] - ORIGIN_PX[0]) / PX_PER_MM, (point[1] - ORIGIN_PX[1]) / PX_PER_MM),
    mmPerPxAt: () => 1 / PX_PER_MM,
    residualPx: 0,
    covarianceAt: () => ({ xx: 0, xy: 0, yy: 0 }),
  };
}
