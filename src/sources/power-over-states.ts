// sources: watts in each state of the plate, and what the feed says of them → the watts with as much chance above as
// below.
import type { PowerInState } from "./source-fit.js";

/** Points of the constants' factor, to so many of its standard deviations. */
const POINTS = 81;
const REACH = 4;

/** Join the watts of all states: the median, which a state that means several times the watts hardly moves while the
 *  other is likelier, and which lies where watts are probable; the mean of two states lies where neither is.
 *  @param likelihood of watts that are a factor times those of a state; its number and the factor. None: all alike.
 *  @returns null where there are no watts; `chance` is the mean likelihood; the spread is about the median.
 */
export function powerOverStates(
  states: readonly PowerInState[],
  likelihood: (state: number, factor: number) => number = () => 1,
): { readonly powerW: number; readonly powerLogSigma: number; readonly chance: number } | null {
  const points: { readonly log: number; readonly weight: number }[] = [];
  let [all, kept] = [0, 0];
  for (const [k, { chance, powerW, logSigma }] of states.entries()) {
    if (!(powerW > 0)) continue;
    for (let i = 0; i < POINTS; i++) {
      const z = REACH * ((2 * i) / (POINTS - 1) - 1);
      const before = chance * Math.exp(-0.5 * z * z);
      const weight = before * likelihood(k, Math.exp(z * logSigma));
      all += before;
      kept += weight;
      points.push({ log: Math.log(powerW) + z * logSigma, weight });
    }
  }
  if (!(kept > 0)) return null;
  points.sort((a, b) => a.log - b.log);
  let below = 0;
  const middle = points.find(({ weight }) => {
    below += weight;
    return below >= 0.5 * kept;
  })!.log;
  const square = points.reduce((sum, { log, weight }) => sum + weight * (log - middle) ** 2, 0) / kept;
  return { powerW: Math.exp(middle), powerLogSigma: Math.sqrt(square), chance: kept / all };
}
