// sources: watts of one source and χ² in states whose times are evenly apart → the same at times between them.

/** Watts in a state, 0 where it has none, and what speaks against it. */
export interface StateWatts {
  readonly chi2: number;
  readonly powerW: number;
  /** Standard deviation of the logarithm. */
  readonly logSigma: number;
}

/** Interpolate between states, by the logarithm of the time: χ² as a parabola does, the logarithm of the watts and its
 *  spread evenly. Method: cubic Hermite with central differences (Catmull & Rom 1974; from memory), which is exact for
 *  parabolas.
 *  @param states in the order of their times, each so many times the one before it.
 *  @param parts how many steps each step becomes. @returns also the given ones. Between two of which one has no watts
 *  nothing is added.
 */
export function denserStates(states: readonly StateWatts[], parts: number): StateWatts[] {
  const chi2 = states.map((one) => one.chi2);
  return states.flatMap((one, k) => {
    const next = states[k + 1];
    if (next === undefined || !(one.powerW > 0 && next.powerW > 0)) return [one];
    const [a, b, c, d] = [around(chi2, k - 1), chi2[k]!, chi2[k + 1]!, around(chi2, k + 2)];
    return Array.from({ length: parts }, (_, p): StateWatts => {
      const f = p / parts;
      const bend = f * (2 * a - 5 * b + 4 * c - d + f * (3 * (b - c) + d - a));
      return {
        chi2: b + 0.5 * f * (c - a + bend),
        powerW: one.powerW * Math.exp(f * Math.log(next.powerW / one.powerW)),
        logSigma: one.logSigma + f * (next.logSigma - one.logSigma),
      };
    });
  });
}

/** A value, or beyond the first and the last what a parabola, or of two a line, through the nearest ones gives. */
function around(values: readonly number[], k: number): number {
  if (values[k] !== undefined) return values[k];
  const [a, b, c] = k < 0 ? values : values.toReversed();
  return c === undefined ? 2 * a! - b! : 3 * a! - 3 * b! + c;
}
