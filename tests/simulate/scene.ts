// simulate: what a simulated scene is made of.
import type { Point } from "./polygons.js";

/** Finishes, as the board map names them. */
export type SimFinish = "solder-mask" | "moulded" | "ceramic" | "bare-die" | "bare-metal" | "coated";

/** A part as it truly is; the map tells a little less, and a little wrong. */
export interface Part {
  readonly ref: string;
  readonly label: string;
  readonly side: "top" | "bottom";
  readonly kind: "ic" | "passive" | "shield" | "connector" | "other";
  readonly centerMm: Point;
  readonly sizeMm: readonly [number, number];
  readonly angleDeg: number;
  readonly polygon: readonly Point[];
  readonly finish: SimFinish;
  /** True emissivity, not the finish's textbook value. */
  readonly emissivity: number;
  /** False where the map keeps silent about the finish. */
  readonly finishDeclared: boolean;
  readonly nets: readonly string[];
  readonly normallyWarm: boolean;
  /** Body above board, mean over the body, K per W of the part's heat. */
  readonly bodyKPerW: number;
  /** Time constant of the body, s. */
  readonly bodyTimeS: number;
  /** Where in the body the heat is made, as a share of its half-sizes. */
  readonly dieOffset: Point;
}

/** A board as it truly is. */
export interface TrueBoard {
  readonly name: string;
  readonly thicknessMm: number;
  readonly outline: readonly Point[];
  readonly parts: readonly Part[];
  /** Pads and small parts that no map names; they are drawn, never heated. */
  readonly unnamed: readonly Part[];
}

/** A picture in °C; the same shape as the tool's raster. */
export interface SimFrame {
  readonly unit: "degC";
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
}

/** How content of the baseline moved: about the frame's centre, clockwise as seen, then the shift. */
export interface Nudge {
  readonly dxPx: number;
  readonly dyPx: number;
  readonly rotationDeg: number;
}

export const KINDS = [
  "still",
  "nudged",
  "faint",
  "warm-processor",
  "near-parts",
  "behind",
  "reflections",
  "unpowered",
  "unpowered-bare",
  "eight-bit",
  "burst",
  "onsets",
  "cycled",
  "two-sides",
  "unlisted",
] as const;
export type Kind = (typeof KINDS)[number];

/** One part that heats. */
export interface TrueSource {
  readonly ref: string;
  readonly side: "top" | "bottom";
  /** False for a part that is warm on a healthy board too. */
  readonly fault: boolean;
  /** On the side the camera sees. */
  readonly visible: boolean;
  readonly watts: number;
  /** Centre of its heat, board mm, and where the baseline frame has it. */
  readonly mm: Point;
  readonly px: Point;
  /** The body's own rise above the board at the time of the (last) powered frame, K, mean over the body. */
  readonly bodyRiseK: number;
  /** Corners in the baseline frame. */
  readonly polygonPx: readonly Point[];
  /** When it began to heat, s from power-on. */
  readonly onsetS: number;
  /** False where the map keeps silent about the part. */
  readonly listed: boolean;
}

export interface Truth {
  readonly kind: Kind;
  readonly seed: number;
  readonly sources: readonly TrueSource[];
  readonly transform: Nudge;
  readonly noise: {
    /** Median over the pixels of one frame's white noise, K. */
    readonly sigmaK: number;
    /** Standard deviation of the fixed pattern, K. */
    readonly fixedPatternK: number;
    /** White noise of one pixel of mean powered − mean baseline (of one powered frame in a burst), K. */
    readonly differenceK: number;
    readonly stepK: number | null;
    readonly badPixels: readonly (readonly [number, number])[];
  };
  readonly plate: {
    /** Mean over the board of k·t, W/K. */
    readonly conductanceWPerK: number;
    readonly lossWPerM2K: number;
    readonly heatCapacityJPerM2K: number;
    /** True where the map tells the tool these three. */
    readonly known: boolean;
    /** True where it tells them as they are; else each is off by up to a fifth. */
    readonly toldRight: boolean;
  };
  /** Supply that is switched on and off: its true period, and the largest amplitude shown at it; null: always on. */
  readonly cycle: { readonly periodS: number; readonly amplitudeK: number } | null;
  /** Seconds from power-on of each powered frame. */
  readonly timesS: readonly number[];
  /** Largest rise the camera would show without noise, K; 0 when nothing heats. */
  readonly peakApparentRiseK: number;
  /** Largest change the reflections make, K. */
  readonly reflectionChangeK: number;
  /** Standard deviation of the optics' blur, px. */
  readonly blurPx: number;
  readonly mmPerPx: number;
  /** Board mm → baseline px, 3×3 row-major. */
  readonly boardToFrame: readonly number[];
  /** 1 where the baseline frame sees the board. */
  readonly boardMask: Uint8Array;
}

/** What the tool gets, and the truth beside it. */
export interface Scene {
  readonly kind: Kind;
  readonly seed: number;
  readonly board: SimBoardMap;
  readonly view: SimView;
  readonly baseline: readonly SimFrame[];
  readonly powered: readonly SimFrame[];
  readonly rateHz: number | null;
  readonly volts: number | null;
  readonly amps: number | null;
  /** Period of a supply that is switched on and off, on at first and for half of it, s; null: always on. */
  readonly cycleS: number | null;
  /** The same attempt seen from the other side. */
  readonly otherSide: OtherSide | null;
  readonly truth: Truth;
}

/** A second pair of views: the board turned over between the two. */
export interface OtherSide {
  readonly baseline: readonly SimFrame[];
  readonly powered: readonly SimFrame[];
  readonly view: SimView;
}

/** A board map in the form of the contract. */
export interface SimBoardMap {
  kind: "faultglow/board";
  version: 1;
  name: string;
  thicknessMm: number;
  outline: Point[];
  regions: SimRegion[];
  plate?: { conductanceWPerK: number; lossWPerM2K: number; heatCapacityJPerM2K: number };
}

export interface SimRegion {
  ref: string;
  label?: string;
  side: "top" | "bottom";
  kind?: Part["kind"];
  polygon: Point[];
  finish?: SimFinish;
  nets?: string[];
  normallyWarm?: boolean;
}

/** A view in the form of the contract. */
export interface SimView {
  kind: "faultglow/view";
  version: 1;
  side: "top" | "bottom";
  frame: { width: number; height: number };
  fiducials: { board: Point; pixel: Point }[];
}
