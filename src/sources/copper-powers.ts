// sources: the sources found and the states of the plate → their watts whatever the copper, and how unsure they are.

import { raiseTo } from "../core/raise-to.js";
import { addSquared } from "../numeric/pixel-errors.js";
import { LEAST_WEIGHT, type StatePool } from "./average-powers.js";
import { CandidatePool } from "./candidate-pool.js";
import { copperFields, UNTOLD_FIELDS } from "./copper-fields.js";
import { denserStates } from "./denser-states.js";
import { heatCore } from "./heat-core.js";
import type { FitParts } from "./mirrored-places.js";
import type { NuisanceColumn } from "./nuisance-columns.js";
import { type PlateState, statesBetween, TIMES_APART, TIMES_BETWEEN, timedSteps } from "./plate-state.js";
import { powerOverStates } from "./power-over-states.js";
import { ProjectedFit } from "./projected-fit.js";
import type { PowerInState, PowerToTell } from "./source-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";
import { withinState } from "./within-state.js";

/** States that are fitted with uneven copper, of those that fit best on even copper, and the fields of it. Where the
 *  plate is not told its conductance and time count for more: there as many fields as take little time. */
const MOST = Object.freeze({
  told: Object.freeze({ states: 5, fields: Object.freeze({ places: 24, lattice: 20 }) }),
  untold: Object.freeze({ states: 2, fields: UNTOLD_FIELDS }),
});
/** … such of them as may come out best once copper bends them: by this share of what is explained, and this many times
 *  the scale. */
const STATE_REACH = Object.freeze({ share: 0.015, scales: 40 });
/** Fields at some places, to first order, don't follow copper to the noise: χ² counts by so much less, and a pixel is
 *  known no better than this share of what the set makes there. Half of the square of a third is left out, and the
 *  parts' own shapes are close by. */
export const TEMPER = 2;
export const REST_SHARE = 0.2;

/** χ² that leaves a state a hundredth of the likeliest one's chance. */
const ENOUGH_CHI2 = 9;
/** Where a told plate warms, as many steps between two of the states that are fitted. */
const PARTS = 4;

/** The priors of smooth change are wide, so that none is taken for heat: each wave may be as large as all together are.
 *  Here heat is known, and what smooth change takes of it the watts lack. Where the map tells the plate they are about
 *  as large as they were found to be where the true rise was known: between the middle (82 scenes: a tenth of the
 *  priors) and the root mean square (0.3); where it does not they stand for what a wrong conductance leaves as well,
 *  and smaller ones change nothing (51 of 102 watts nearer). */
const SMOOTH_SHARE = 0.2;
const UNTOLD_SMOOTH_SHARE = 0.4;
/** The level is taken from the board's surroundings: it is out by what drift is not even, as the longest wave is, and
 *  at least so much, K (there 0.03 as a root mean square, 0.015 in the middle). */
const LEAST_LEVEL_K = 0.02;
const UNTOLD_LEVEL_K = 0.03;

/** Fit the watts of a set anew, on copper that is not even. The rise close to a source goes as the copper there, and
 *  how far heat has come as the copper on its way. Copper carries heat about and keeps none: what all the board shows
 *  tells the watts at rest, and while it warms as soon as the time is known; where it is not, the time is told by all
 *  that the copper does not change.
 *  @param parts what the set was fitted with. @param modelled what it makes, K per pixel; not modified.
 *  @param pools one for every state.
 *  @returns one per candidate, null for those that have no watts; null where none has. Where the plate is not told,
 *  each with its watts in every likely state.
 */
export function copperPowers(
  model: SourceModel,
  parts: FitParts,
  set: readonly Candidate[],
  modelled: Float32Array,
  pools: readonly StatePool[],
): (PowerToTell | null)[] | null {
  const { scale } = parts;
  const isTold = pools[0]!.pool.state.timeConstants !== undefined;
  const most = isTold ? MOST.told : MOST.untold;
  const likely = likeliestStates(set, pools, scale, most.states);
  const powersW = likely[0]!.pool.fitSet(set).powersW;
  const heating = set.flatMap((candidate, c) => {
    const footprint = powersW[c]! > 0 ? model.copper.footprint(candidate.polygon) : null;
    return footprint === null ? [] : [{ at: candidate.at, c, footprint }];
  });
  if (heating.length === 0) return null;
  const fields = copperFields(
    model.copper.grid,
    heating.map(({ at }) => at),
    most.fields,
  );
  const fit = new ProjectedFit(
    parts.rise,
    addSquared(parts.variance, modelled, REST_SHARE),
    isTold
      ? calm(parts.nuisance, SMOOTH_SHARE, LEAST_LEVEL_K)
      : calm(parts.nuisance, UNTOLD_SMOOTH_SHARE, UNTOLD_LEVEL_K),
  );
  // Where the plate warms for a time that is not known, the shape tells it, and all times between the searched ones
  // count.
  const isTimed = isTold && model.plate.timeS === null;
  const isWarming = isTimed && likely[0]!.pool.state.kind === "rising";
  const searched = likely.map(({ pool: { state }, penalty }) => ({ state, penalty }));
  const timesApart = isWarming ? TIMES_BETWEEN : TIMES_APART;
  const cores = isWarming ? set.map((part) => heatCore(model.grid, part)) : [];
  const fitState = ({ state: one, penalty }: WeighedState) => {
    const state: PlateState = model.oneTime ? timedSteps(one) : one;
    const pool = new CandidatePool(model, fit, state);
    const even = pool.fitSet(set);
    const heats = heating.map(({ c, footprint }) => ({ footprint, powerW: even.powersW[c]! }));
    const columns = model.copper.columns(fields, heats, model.wayTo(state));
    const beside = pool.fitBeside(set, columns, 1 / Math.sqrt(scale), cores);
    const chi2 = penalty + beside.freedom - beside.gain / (TEMPER * scale);
    // Untold warming plates tell too few watts (0.2 of the logarithm): there the wide one, which lets the feed say
    // more, is nearer.
    const variancesW2 = isTold ? beside.variancesW2 : beside.apartW2;
    return {
      state,
      factor: model.plate.timeFactor(state),
      chi2,
      powersW: [...beside.powersW, sumOf(beside.powersW)],
      variancesW2: [...variancesW2, beside.totalVarianceW2],
    };
  };
  const fits = isWarming
    ? fitLikely(between(model, searched), searched[0]!, fitState)
    : searched.map(fitState);
  const inEach = isWarming ? PARTS : 1;
  /** Watts of one of the set, or of all together, in each state. */
  const inStates = (c: number): PowerInState[] => {
    const own = fits.map(({ state, factor, powersW, variancesW2, chi2 }, k) => {
      const powerW = powersW[c]!;
      const noise2 = powerW > 0 ? Math.min(1, Math.max(0, scale * variancesW2[c]!) / powerW ** 2) : 0;
      const fitted = fits.map((one) => ({ state: one.state, powerW: one.powersW[c]! }));
      const within = isTimed ? withinState(fitted, k, raiseTo(timesApart, 1 / inEach)) : 0;
      const logSigma = Math.sqrt(noise2 + within ** 2 + model.plate.copperError(state) ** 2);
      return { chi2, powerW: factor * powerW, logSigma };
    });
    const all = denserStates(own, inEach);
    const least = Math.min(...all.map(({ chi2 }) => chi2));
    return all.map(({ chi2, powerW, logSigma }) => {
      return { chance: Math.exp(-0.5 * (chi2 - least)), powerW, logSigma };
    });
  };
  const total = isTold ? meanPower(inStates(set.length)) : null;
  return set.map((_, c): PowerToTell | null => {
    const byState = inStates(c);
    const power = meanPower(byState);
    if (power === null) return null;
    if (total !== null) return { ...power, powerNoiseW: 0, totalLogSigma: total.powerLogSigma };
    const all = byState.reduce((sum, { chance }) => sum + chance, 0);
    const states = byState.map((one) => ({ ...one, chance: one.chance / all }));
    const { powerW, powerLogSigma } = powerOverStates(states) ?? power;
    return { powerW, powerLogSigma, powerNoiseW: 0, byState: states };
  });
}

/** Mean of the logarithm of watts over the states that have some, and its spread; null where none that counts has. */
function meanPower(states: readonly PowerInState[]): Pick<PowerToTell, "powerW" | "powerLogSigma"> | null {
  const heats = states.filter(({ powerW }) => powerW > 0);
  const over = (term: (one: PowerInState) => number) =>
    heats.reduce((sum, one) => sum + one.chance * term(one), 0);
  const weights = over(() => 1);
  if (!(weights > LEAST_WEIGHT)) return null;
  const mean = over(({ powerW }) => Math.log(powerW)) / weights;
  const square = over(({ powerW, logSigma }) => Math.log(powerW) ** 2 + logSigma ** 2) / weights;
  return { powerW: Math.exp(mean), powerLogSigma: Math.sqrt(Math.max(0, square - mean * mean)) };
}

function sumOf(values: Float64Array): number {
  return values.reduce((sum, one) => sum + one, 0);
}

interface WeighedState {
  readonly state: PlateState;
  /** χ² against it before anything is seen. */
  readonly penalty: number;
}

function between({ plate }: SourceModel, some: readonly WeighedState[]): WeighedState[] {
  const states = statesBetween(
    some.map(({ state }) => state),
    plate.restMm,
  );
  return states.map((state) => ({ state, penalty: plate.penaltyOf(state) }));
}

/** Fit one state after the other in both directions, from the one nearest to where to begin, until χ² says that no more
 *  of them counts.
 *  @param states in the order of their times. @returns in their order.
 */
function fitLikely<T extends { readonly chi2: number }>(
  states: readonly WeighedState[],
  first: WeighedState,
  solve: (one: WeighedState) => T,
): T[] {
  const off = ({ state }: WeighedState) =>
    Math.abs(Math.log(state.timeConstants! / first.state.timeConstants!));
  const start = states.reduce((best, one, k) => (off(one) < off(states[best]!) ? k : best), 0);
  const fits = [solve(states[start]!)];
  let least = fits[0]!.chi2;
  const goOn = (later: boolean): void => {
    for (let k = start + (later ? 1 : -1); k >= 0 && k < states.length; k += later ? 1 : -1) {
      const fitted = solve(states[k]!);
      if (later) fits.push(fitted);
      else fits.unshift(fitted);
      if (fitted.chi2 > least + ENOUGH_CHI2) return;
      least = Math.min(least, fitted.chi2);
    }
  };
  goOn(true);
  goOn(false);
  return fits;
}

/** States that fit best on even copper, best first, at most so many. */
function likeliestStates(
  set: readonly Candidate[],
  pools: readonly StatePool[],
  scale: number,
  most: number,
): StatePool[] {
  const tried = pools.map((one) => ({ one, worth: one.pool.fitSet(set).gain - scale * one.penalty }));
  const best = Math.max(...tried.map(({ worth }) => worth));
  return tried
    .filter(({ worth }) => worth >= best - STATE_REACH.share * Math.abs(best) - STATE_REACH.scales * scale)
    .sort((a, b) => b.worth - a.worth)
    .slice(0, most)
    .map(({ one }) => one);
}

/** Level and smooth change as large as they are together; the copper's own waves are the fields' business. */
function calm(nuisance: readonly NuisanceColumn[], share: number, leastLevelK: number): NuisanceColumn[] {
  const smooth = nuisance.filter(({ what }) => what === "smooth").map(({ priorSigma }) => priorSigma);
  const levelK = Math.max(leastLevelK, share * Math.max(0, ...smooth));
  return nuisance.flatMap((one): NuisanceColumn[] => {
    if (one.what === "uneven") return [];
    if (one.what === "level") return [{ ...one, priorSigma: Math.min(one.priorSigma, levelK) }];
    return one.what === "smooth" ? [{ ...one, priorSigma: share * one.priorSigma }] : [one];
  });
}
