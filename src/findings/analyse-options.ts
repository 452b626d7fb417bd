// findings: what a caller gives an analysis.
import type { BoardMap, View } from "../board/board-schema.js";
import type { Note } from "../core/notes.js";
import type { Frame } from "../frames/frame.js";

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
  /** The supply was switched on and off throughout the powered frames: period of one on and one off together, s, or "find"
   *  to look for it in the frames. Wants `rateHz` and 16 frames or more of one camera position. */
  readonly cycleS?: number | "find" | null;
  readonly volts?: number | null;
  readonly amps?: number | null;
  /** Notes from the readers, to be kept with the findings. */
  readonly notes?: readonly Note[];
}

/** Options of `analyse`. */
export interface AnalyseOptions {
  /** Hotspots that noise alone may make, per frame on average. */
  readonly falseAlarmsPerFrame: number;
  /** How much more often real differences pass a high level than Gaussian ones. */
  readonly tailFactor: number;
  /** Version of the tool, for the findings. */
  readonly toolVersion: string;
}

/** Defaults of `analyse`. */
export const ANALYSE_DEFAULTS: AnalyseOptions = Object.freeze({
  /** One false hotspot in a hundred frames. */
  falseAlarmsPerFrame: 0.01,
  /** Differences of an uncooled array beyond 5σ are 3 times as frequent as Gaussian ones (measured). */
  tailFactor: 3,
  toolVersion: "0.0.1",
});
