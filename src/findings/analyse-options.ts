// findings: what a caller gives an analysis.

import type { BoardMap, View } from "../board/board-schema.js";
import type { Note } from "../core/notes.js";
import type { OptionsOf } from "../core/options.js";
import { TOOL_VERSION } from "../core/tool-version.js";
import type { Frame } from "../frames/frame.js";
import type { FIT_DEFAULTS } from "../sources/fit-defaults.js";

/** Frames of the same attempt from another camera position. */
export interface OtherSide {
  /** Frames before power, at least one, all of one size, which may differ from that of the first view. */
  readonly baseline: readonly Frame[];
  readonly powered: readonly Frame[];
  /** How this baseline sees the board: its other side, or the same one from elsewhere. */
  readonly view: View;
  readonly viewFile?: string | null;
  /** As for the first view; each pair has a power-on of its own. */
  readonly rateHz?: number | null;
}

/** Frames and what is known of them. */
export interface AnalysisInput {
  /** Frames before power, at least one, all of one size. */
  readonly baseline: readonly Frame[];
  /** Frames with power, at least one, of the same size. */
  readonly powered: readonly Frame[];
  readonly board?: BoardMap | null;
  /** File name of the map, for the findings. */
  readonly boardFile?: string | null;
  /** How the baseline frame sees the board; wanted where a board is given. */
  readonly view?: View | null;
  readonly viewFile?: string | null;
  /** Scale that was given for grey pictures, for the findings. */
  readonly scale?: { readonly lowC: number; readonly highC: number } | null;
  /** Frames per second of a burst that starts at power-on; null: the powered frames are averaged. */
  readonly rateHz?: number | null;
  /** Time from power-on to the powered frames, s, where they are averaged: a burst has times of its own. */
  readonly afterS?: number | null;
  /** The supply was switched on and off throughout the powered frames: period of one on and one off together, s, or
   *  "find" to look for it in the frames. Wants `rateHz` and 16 frames or more of one camera position. */
  readonly cycleS?: number | "find" | null;
  /** The same attempt seen from the other side of the board, fitted together with the first view; wants `board` and
   *  `view`. With `cycleS` the supply was switched there too, and `rateHz` is wanted of both. */
  readonly otherSide?: OtherSide | null;
  readonly volts?: number | null;
  readonly amps?: number | null;
  /** Notes from the readers, to be kept with the findings. */
  readonly notes?: readonly Note[];
}

/** The parts of an analysis, in their order. */
export type AnalysisStage =
  | "board"
  | "clean"
  | "align"
  | "rise"
  | "hotspots"
  | "sources"
  | "suspects"
  | "findings";

/** Called as each part of an analysis ends; with a second view its parts come again. The parts look at no clock: who
 *  calls may. */
export type OnStage = (ended: AnalysisStage) => void;

/** Options of `analyse`. */
export interface AnalyseOptions {
  /** Hotspots that noise alone may make, per frame on average. */
  readonly falseAlarmsPerFrame: number;
  /** How much more often real differences pass a high level than Gaussian ones. */
  readonly tailFactor: number;
  /** Tell the sensor's pattern from the scene where edges hide it; for comparison. */
  readonly resolvesPattern: boolean;
  /** Weigh whether a face heats or mirrors the room; for comparison. */
  readonly judgesMirrors: boolean;
  /** Let the board change smoothly without heat; for comparison. */
  readonly smoothBackground: boolean;
  /** Constants of the fit of sources, by their names in `FIT_DEFAULTS`; for comparison. */
  readonly fit: OptionsOf<typeof FIT_DEFAULTS>;
  /** Version of the tool, for the findings. */
  readonly toolVersion: string;
}

/** Defaults of `analyse`. */
export const ANALYSE_DEFAULTS: AnalyseOptions = Object.freeze({
  /** One false hotspot in a hundred frames. */
  falseAlarmsPerFrame: 0.01,
  /** Differences of an uncooled array beyond 5σ are 3 times as frequent as Gaussian ones (measured). */
  tailFactor: 3,
  resolvesPattern: true,
  judgesMirrors: true,
  smoothBackground: true,
  fit: Object.freeze({}),
  toolVersion: TOOL_VERSION,
});
