// evaluate: what any chain answers about a scene, in the one form that is scored.
import type { Point } from "../simulate/polygons.js";
import type { Nudge } from "../simulate/scene.js";

export interface AnswerHotspot {
  readonly px: Point;
  /** Stated uncertainty of `px`, px, each axis; null where none is stated. */
  readonly sigmaPx: number | null;
  readonly powerSigmaW: number | null;
  /** When it began to heat, s from power-on, and the standard deviation stated; null where none is stated. */
  readonly onsetS?: number | null;
  readonly onsetSigmaS?: number | null;
}

export interface AnswerSuspect {
  readonly ref: string;
  readonly side: "top" | "bottom";
  readonly normallyWarm: boolean;
  /** Null where the chain states none. */
  readonly probability: number | null;
  readonly powerW: number | null;
  /** Rank of its hotspot, from 1. */
  readonly hotspot: number | null;
}

/** Hotspots by rank, suspects most probable first, and how the powered frame lies on the baseline. */
export interface Answer {
  readonly transform: Nudge;
  readonly hotspots: readonly AnswerHotspot[];
  readonly suspects: readonly AnswerSuspect[];
  /** The chance that the source is none of the named parts; null where none is stated. */
  readonly unexplained?: number | null;
}
