// place: how a motion is refined: settings, and what they are made from.
import { whiteNoiseGain } from "../numeric/gaussian-filter.js";
import type { Motion } from "./motion.js";
import type { PlaceNewOptions } from "./place-new-defaults.js";

/** What is known of a motion beforehand. */
export interface Anchor {
  readonly motion: Motion;
  /** Inverse covariance of the eight parameters, row-major. */
  readonly precision: Float64Array;
}

/** How a refinement is done. */
export interface RefineSettings {
  readonly maxRounds: number;
  /** How far edges may still lie off their place, round by round, px; the last one stays. Such misfit is no reason to
   *  distrust an edge. */
  readonly misfitPx: readonly number[];
  /** Steps that move no pixel by more than this end it, px. */
  readonly settledPx: number;
  /** How far a camera's other place stretches the picture (share), and how much it tilts it over the board's arm. */
  readonly priorStretch: number;
  readonly priorTilt: number;
  /** Least noise of a band-passed pixel, K. */
  readonly noiseK: number;
  /** Where it is known beforehand, and how well. */
  readonly anchor?: Anchor;
}

/** Edges that a map draws may still lie so far off, round by round, px: the map is drawn to a fraction of a pixel. */
const MAP_MISFIT_PX: readonly number[] = Object.freeze([1.5, 1, 0.7, 0.5, 0.35, 0.25, 0.2]);
/** Steps that move no pixel by more than this end the search, px. */
export const SETTLED_PX = 0.003;
/** Noise and pattern of a pixel of an uncooled array, K: the least difference that means something. */
const PIXEL_K = 0.05;

type Rounds = Pick<RefineSettings, "misfitPx" | "settledPx" | "maxRounds">;

/** Settle how a motion is refined.
 *  @param fineSigmaPx finer width of the picture that edges are seen in, px.
 */
export function refineSettings(
  { priorStretch, priorTilt }: Pick<PlaceNewOptions, "priorStretch" | "priorTilt">,
  fineSigmaPx: number,
  { misfitPx, settledPx, maxRounds }: Rounds,
): RefineSettings {
  const noiseK = PIXEL_K * whiteNoiseGain(fineSigmaPx);
  return { misfitPx, settledPx, maxRounds, priorStretch, priorTilt, noiseK };
}

/** Rounds by which a map is laid on edges. */
export function mapRounds(maxRounds: number): Rounds {
  return { misfitPx: MAP_MISFIT_PX, settledPx: SETTLED_PX, maxRounds };
}
