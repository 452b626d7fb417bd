// sources: the sources found and every state the plate may be in → their watts, and how unsure the state leaves them.
import type { CandidatePool } from "./candidate-pool.js";
import type { PlateState } from "./plate-state.js";
import type { Candidate } from "./source-model.js";

/** Uneven copper makes a wrong state fit better than the right one by this share of what the sources explain. A
 *  judgement; where copper is fitted along (`copper-powers.ts`) the fields take its place (record 312). */
const STATE_ERROR = 0.003;

/** χ² by which a wrong state may fit better than the right one, given what the best one explains. */
export function stateErrorOf(best: number): number {
  return STATE_ERROR * best;
}

/** Relative error of watts, standard deviation of their logarithm, once the state is given. */
export const POWER_ERRORS = Object.freeze({
  /** At rest the losses tell the watts: 14 to 26 W/m²K where the map does not state them (source-model.ts), evenly
   *  spread 0.18 of the logarithm; the rest is uneven copper near the source. */
  steadyTold: 0.2,
  steady: 0.3,
  /** Rising for a time that is not known the conductance tells them: uneven, and within a factor of three or four where
   *  the map does not state it. */
  risingTold: 0.4,
  rising: 0.85,
  /** Under a supply that goes on and off by one picture alone: its lag behind the supply is not known. */
  alternatingTold: 0.25,
  alternating: 0.4,
  /** The plate is told and followed through time: uneven copper and constants a fifth off; without its heat capacity,
   *  one by the board's size. */
  timed: 0.25,
  timedBySize: 0.32,
  /** … what is left of it where uneven copper is fitted along: constants a fifth off. */
  copper: 0.15,
  copperBySize: 0.25,
  /** The same where nothing is told. At rest the loss: 14 to 26 W/m²K (0.18), and what copper leaves (0.15). Rising,
   *  what conductance (0.9) and time (1.4) leave open once their product is seen: 0.9·1.4 ÷ √(0.9² + 1.4²) = 0.76. */
  copperSteady: 0.25,
  copperRising: 0.76,
  /** After a known time, each by itself: what copper leaves, even and fitted along (as in `steady` and `copperSteady`),
   *  the loss, and the time, told to a tenth. */
  evenCopper: 0.24,
  leftCopper: 0.15,
  loss: 0.18,
  time: 0.1,
});

/** States that count for less than this, together, of the one that counts most give no watts. */
export const LEAST_WEIGHT = 1e-6;

/** A set's candidates in one state, and χ² against that state before anything is seen, not scaled. */
export interface StatePool {
  readonly pool: CandidatePool;
  readonly penalty: number;
}

/** Watts of one source, over all states. */
export interface AveragedPower {
  /** exp of the mean logarithm. */
  readonly powerW: number;
  /** Standard deviation of the logarithm. */
  readonly logSigma: number;
}

/** Average the watts over the states of the plate, each with the weight of how well it explains the rise.
 *  @param pools one for every state.
 *  @param scale by how much χ² overstates the evidence.
 *  @param errorOf error of watts in a state, as `POWER_ERRORS`.
 *  @returns one per candidate; null for those to which no state that counts gives watts.
 */
export function averagePowers(
  set: readonly Candidate[],
  pools: readonly StatePool[],
  scale: number,
  errorOf: (state: PlateState) => number,
): (AveragedPower | null)[] {
  const fits = pools.map(({ pool, penalty }) => {
    const fit = pool.fitSet(set);
    return { state: pool.state, fit, penalty };
  });
  const best = Math.max(...fits.map(({ fit }) => fit.gain));
  const width = 2 * Math.max(scale, stateErrorOf(best));
  const weightOf = fits.map(({ fit, penalty }) => Math.exp((fit.gain - best) / width - penalty / 2));
  // The state that explains most may be far from the time that was told, and then counts for next to nothing itself.
  const least = LEAST_WEIGHT * Math.max(...weightOf);
  return set.map((_, c) => {
    let weights = 0;
    let mean = 0;
    let square = 0;
    for (const [k, { state, fit }] of fits.entries()) {
      const powerW = fit.powersW[c]!;
      if (!(powerW > 0)) continue;
      const weight = weightOf[k]!;
      const log = Math.log(powerW);
      weights += weight;
      mean += weight * log;
      square += weight * (log * log + errorOf(state) ** 2);
    }
    if (!(weights > least)) return null;
    mean /= weights;
    return { powerW: Math.exp(mean), logSigma: Math.sqrt(Math.max(0, square / weights - mean * mean)) };
  });
}

/** Half-widths of a normal deviate's intervals, in standard deviations: 90 % inside, 10 % above. */
const NINETY_INSIDE = 1.645;
const TEN_ABOVE = 1.2816;
/** Watts known to a factor of 4.5 (e^1.5) are not known: more says nothing more. */
const MOST_LOG_SIGMA = 1.5;

/** Standard deviation of watts: the noise's, and what the plate's state and constants leave open. Watts are log-normal,
 *  while it is read as a symmetric interval: so wide that 1.645 of it hold 90 %.
 *  @param noiseW2 variance that the noise makes, W².
 */
export function powerSigma({ powerW, logSigma }: AveragedPower, noiseW2: number): number {
  const log = Math.min(MOST_LOG_SIGMA, logSigma);
  // A narrow one reaches half of the way from exp(−σ) to exp(σ); of a wide one the lower end is below nothing at all,
  // so that the tenth outside lies above.
  const share = Math.max(Math.sinh(log), Math.expm1(TEN_ABOVE * log) / NINETY_INSIDE);
  return Math.hypot(Math.sqrt(noiseW2), powerW * share);
}
