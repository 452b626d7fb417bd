// evaluate: the figures that simulated scenes don't give → how each is tried and what its trials come to.
import type { Figure } from "../figure.js";
import type { Analyse } from "../tool-chain.js";
import { CYCLE_NOISE } from "./cycle-noise.js";
import { JOBS } from "./jobs.js";
import { PLACE } from "./place.js";
import { PLACING } from "./placing.js";
import { REPAIRS } from "./repairs.js";
import { SEPARATION } from "./separation.js";
import { TIMED } from "./timed.js";

/** What one trial measured; `wrong`: what was wrong in it, for people, empty if nothing was. */
export type TrialValues = Readonly<Record<string, number | boolean | string | null>>;

/** A figure made of many trials that need nothing of each other. */
export interface SpecialFigure {
  readonly name: string;
  /** Trials that make it good enough to be held against its bar. */
  readonly trials: number;
  readonly run: (analyse: Analyse, index: number, seed: number) => Promise<TrialValues>;
  readonly summarise: (trials: readonly TrialValues[]) => Figure[];
}

export const SPECIAL_FIGURES: readonly SpecialFigure[] = Object.freeze([
  PLACE,
  PLACING,
  SEPARATION,
  CYCLE_NOISE,
  TIMED,
  JOBS,
  REPAIRS,
]);
