// sources: watts in states of the plate that lie some times apart → how unsure the time between two states leaves them.
import { type PlateState, TIMES_APART } from "./plate-state.js";

/** A state with the watts of one source in it, 0 where it has none. */
interface StatePower {
  readonly state: PlateState;
  readonly powerW: number;
}

/** How unsure watts are for a state standing for all times that are nearer to it than to the next: each of these is as
 *  likely as the other, on the scale of the logarithm. Where one state alone explains the rise, nothing else says that
 *  its time is not known.
 *  @param fitted states of a plate whose constants are told, in any order. @param k which of them. @param timesApart
 *  how many times the time before it each time is.
 *  @returns standard deviation of the logarithm. Watts between two states go as the power of the time that both tell;
 *  of a lone state inversely as the time while it warms, for so much heat is seen, and not at all at rest.
 */
export function withinState(
  fitted: readonly StatePower[],
  k: number,
  timesApart: number = TIMES_APART,
): number {
  const own = fitted[k]!;
  const at = logTime(own.state);
  const others = fitted.filter((one) => one.powerW > 0 && logTime(one.state) !== at);
  const before = nearest(others.filter(({ state }) => logTime(state) < at));
  const after = nearest(others.filter(({ state }) => logTime(state) > at));
  const slopes = [before, after].flatMap((one) =>
    one === null || !(own.powerW > 0)
      ? []
      : [Math.abs(Math.log(one.powerW / own.powerW) / (logTime(one.state) - at))],
  );
  const lone = own.state.kind === "rising" ? 1 : 0;
  const slope = slopes.length === 0 ? lone : slopes.reduce((sum, one) => sum + one, 0) / slopes.length;
  return (slope * Math.log(timesApart)) / Math.sqrt(12);

  function nearest(some: readonly StatePower[]): StatePower | null {
    const off = ({ state }: StatePower) => Math.abs(logTime(state) - at);
    return some.reduce<StatePower | null>(
      (best, one) => (best === null || off(one) < off(best) ? one : best),
      null,
    );
  }
}

function logTime({ timeConstants }: PlateState): number {
  return Math.log(timeConstants!);
}
