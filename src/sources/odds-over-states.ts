// sources: the odds of heat in each state of the plate, and how well each state does without it → the odds over all
// states.

/** One state of the plate. */
export interface StateOdds {
  /** Log odds of heat in it. */
  readonly logOdds: number;
  /** χ² explained in it by all else that was found, ÷ the residual scale; and χ² against it before anything is seen. */
  readonly gain: number;
  readonly penalty: number;
}

/** Log odds beyond which nothing is surer. */
export const SURELY = 50;

/** Sum heat against a mirror over the states of the plate. A mirror fares alike in all of them, so that each counts as
 *  it explains the rest: what the heat itself explains in it is in its odds.
 *  @param states at least one.
 */
export function oddsOverStates(states: readonly StateOdds[]): number {
  const logWeights = states.map(({ gain, penalty }) => 0.5 * (gain - penalty));
  const top = Math.max(...logWeights);
  let [heat, all] = [0, 0];
  states.forEach(({ logOdds }, k) => {
    const weight = Math.exp(logWeights[k]! - top);
    heat += weight * Math.exp(Math.min(logOdds, SURELY));
    all += weight;
  });
  return Math.log(heat / all);
}
