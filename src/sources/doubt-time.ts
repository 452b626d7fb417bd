// sources: how well each state of the plate explains the rise → whether the time since power-on that was told can be
// right.

import type { StatePool } from "./average-powers.js";
import { stateErrorOf } from "./average-powers.js";
import type { PlateState } from "./plate-state.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** Bayes factor against the told time from which on it is doubted. Where it is right, and the errors are those of the
 *  model, the factor is 1 on average, so that it comes to 20 in one of twenty cases at most (Markov's inequality). χ²
 *  counts for less here, so that this is a guide and no bound: of 18 simulated pairs whose time was told to a tenth
 *  none came above 1.6. */
const LEAST_FACTOR = 20;

/** A time since power-on by which the fit is clearly worse than with a free time. */
export interface TimeDoubt {
  /** The time told, of which the fit made use, s. */
  readonly toldS: number;
  /** State of the plate that is likeliest where no time is told. */
  readonly likely: PlateState;
  /** Time at which a plate of these constants is likeliest to be in that state, s; null where it has come to rest. */
  readonly likelyS: number | null;
  /** Chance of the rise with no time told ÷ with the one told. */
  readonly factor: number;
}

/** Ask whether the rise contradicts the time since power-on that was told.
 *  Method: Bayes factor of two priors on the states of the plate, each adding up to 1: that of a time that is not
 *  known, and that of the one told; χ² of a state counts as in `averagePowers`, so that uneven copper contradicts no
 *  time by itself.
 *  @param pools of all states. @param scale by how much χ² overstates the evidence.
 *  @returns null where no time is told, nothing was found, or the told time can be right.
 */
export function doubtTime(
  model: Pick<SourceModel, "plate" | "alternating">,
  set: readonly Candidate[],
  pools: readonly StatePool[],
  scale: number,
): TimeDoubt | null {
  const { plate, alternating } = model;
  if (plate.timeS === null || alternating !== null || set.length === 0) return null;
  const gains = pools.map(({ pool }) => pool.fitSet(set).gain);
  const best = Math.max(...gains);
  if (!(best > 0)) return null;
  const width = 2 * Math.max(scale, stateErrorOf(best));
  const likelihoods = gains.map((gain) => Math.exp((gain - best) / width));
  const told = priorsBy(pools.map(({ penalty }) => penalty));
  const free = priorsBy(pools.map(({ pool }) => plate.untoldPenaltyOf(pool.state)));
  const chance = (priors: readonly number[]) => priors.reduce((sum, p, k) => sum + p * likelihoods[k]!, 0);
  const factor = chance(free) / chance(told);
  if (!(factor >= LEAST_FACTOR)) return null;
  const weights = free.map((p, k) => p * likelihoods[k]!);
  const likely = pools[weights.indexOf(Math.max(...weights))]!.pool.state;
  return { toldS: plate.timeS, likely, likelyS: plate.likelyTimeS(likely), factor };
}

/** Priors that add up to 1, from χ² against each. */
function priorsBy(penalties: readonly number[]): number[] {
  const least = Math.min(...penalties);
  const weights = penalties.map((penalty) => Math.exp(-(penalty - least) / 2));
  const sum = weights.reduce((all, weight) => all + weight, 0);
  return weights.map((weight) => weight / sum);
}
