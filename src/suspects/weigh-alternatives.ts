// suspects: how much worse each candidate explains a source → the probability of each, with a rest for none of them.
import type { OptionsOf } from "../core/options.js";

/** Defaults of `weighAlternatives`. */
export const WEIGH_DEFAULTS = Object.freeze({
  /** Evidence is divided by this before it becomes odds: the plate model errs in more ways than the residual shows.
   *  Set on simulated scenes (see the decision record on calibration). */
  temper: 2,
  /** Chance before anything is seen that heat comes from a place no region names. */
  freePrior: 0.04,
});

/** What is less probable than this is not worth a line, and does not matter for what to do next. */
export const LEAST_PROBABILITY = 0.002;

/** Probability of one candidate. */
export interface Weighed<C> {
  readonly candidate: C;
  readonly probability: number;
}

/** Turn losses of evidence into probabilities by Bayes' rule: odds are exp(−loss/2) times the prior.
 *  @param alternatives every candidate in the source's place with its loss of evidence against the best, ≥ 0.
 *  @param isNamed true for candidates that are named parts; all others together have the free prior.
 *  @param heatChance probability that the source is heat at all.
 *  @returns named candidates, most probable first; what is missing to 1 is the rest.
 */
export function weighAlternatives<C>(
  alternatives: readonly { readonly candidate: C; readonly loss: number }[],
  isNamed: (candidate: C) => boolean,
  heatChance: number,
  options: OptionsOf<typeof WEIGH_DEFAULTS> = {},
): Weighed<C>[] {
  return namedFirst(weighAll(alternatives, isNamed, heatChance, options), isNamed);
}

/** Those of some candidates that are named, most probable first. */
export function namedFirst<C>(
  weighed: readonly Weighed<C>[],
  isNamed: (candidate: C) => boolean,
): Weighed<C>[] {
  return weighed.filter(({ candidate }) => isNamed(candidate)).sort((a, b) => b.probability - a.probability);
}

/** The same with the places that no region names, in the order given; together they sum to the chance of heat. */
export function weighAll<C>(
  alternatives: readonly { readonly candidate: C; readonly loss: number }[],
  isNamed: (candidate: C) => boolean,
  heatChance: number,
  options: OptionsOf<typeof WEIGH_DEFAULTS> = {},
): Weighed<C>[] {
  const o = { ...WEIGH_DEFAULTS, ...options };
  const named = alternatives.filter((a) => isNamed(a.candidate)).length;
  const free = alternatives.length - named;
  const weights = alternatives.map(({ candidate, loss }) => {
    const prior = isNamed(candidate)
      ? (1 - o.freePrior) / Math.max(1, named)
      : o.freePrior / Math.max(1, free);
    return prior * Math.exp(-loss / (2 * o.temper));
  });
  const total = weights.reduce((a, b) => a + b, 0);
  return alternatives.map(({ candidate }, k) => ({
    candidate,
    probability: (heatChance * weights[k]!) / total,
  }));
}
