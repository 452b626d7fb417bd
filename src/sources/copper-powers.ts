// sources: the sources found and the states of the plate → their watts whatever the copper, and how unsure they are.

import { addSquared } from "../numeric/pixel-errors.js";
import { LEAST_WEIGHT, type StatePool } from "./average-powers.js";
import { CandidatePool } from "./candidate-pool.js";
import { copperFields, UNTOLD_FIELDS } from "./copper-fields.js";
import type { FitParts } from "./mirrored-places.js";
import type { NuisanceColumn } from "./nuisance-columns.js";
import { type PlateState, timedSteps } from "./plate-state.js";
import { powerOverStates } from "./power-over-states.js";
import { ProjectedFit } from "./projected-fit.js";
import type { PowerInState, PowerToTell } from "./source-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";
import { withinState } from "./within-state.js";

/** States that are fitted with uneven copper, of those that fit best on even copper, and the fields of it. Where the plate is not told
 *  its conductance and time count for more: there as many fields as take little time. */
const MOST = Object.freeze({
  told: Object.freeze({ states: 5, fields: Object.freeze({ places: 24, lattice: 20 }) }),
  untold: Object.freeze({ states: 2, fields: UNTOLD_FIELDS }),
});
/** … such of them as may come out best once copper bends them: by this share of what is explained, and this many times the scale. */
const STATE_REACH = Object.freeze({ share: 0.015, scales: 40 });
/** Fields at some places, to first order, don't follow copper to the noise: χ² counts by so much less, and a pixel is known no better
 *  than this share of what the set makes there. Half of the square of a third is left out, and the parts' own shapes are close by. */
export const TEMPER = 2;
export const REST_SHARE = 0.2;

/** The priors of smooth change are wide, so that none is taken for heat: each wave may be as large as all together are. Here heat is
 *  known, and what smooth change takes of it the watts lack. Where the map tells the plate they are about as large as they were found to
 *  be where the true rise was known: between the middle (82 scenes: a tenth of the priors) and the root mean square (0.3); where it does not
 *  they stand for what a wrong conductance leaves as well, and smaller ones change nothing (51 of 102 watts nearer). */
const SMOOTH_SHARE = 0.2;
const UNTOLD_SMOOTH_SHARE = 0.4;
/** The level is taken from the board's surroundings: it is out by what drift is not even, as the longest wave is, and at least so much,
 *  K (there 0.03 as a root mean square, 0.015 in the middle). */
const LEAST_LEVEL_K = 0.02;
const UNTOLD_LEVEL_K = 0.03;

/** Fit the watts of a set anew, on copper that is not even. The rise close to a source goes as the copper there, and how far heat has
 *  come as the copper on its way. Copper carries heat about and keeps none: what all the board shows tells the watts at rest, and
 *  while it warms as soon as the time is known; where it is not, the time is told by all that the copper does not change.
 *  @param parts what the set was fitted with. @param modelled what it makes, K per pixel; not modified.
 *  @param pools one for every state.
 *  @returns one per candidate, null for those that have no watts; null where none has. Where the plate is not told, each with its
 *  watts in every likely state.
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
  const fits = likely.map(({ pool: { state: searched }, penalty }) => {
    const state: PlateState = model.oneTime ? timedSteps(searched) : searched;
    const pool = new CandidatePool(model, fit, state);
    const even = pool.fitSet(set);
    const heats = heating.map(({ c, footprint }) => ({ footprint, powerW: even.powersW[c]! }));
    const columns = model.copper.columns(fields, heats, model.wayTo(state));
    const beside = pool.fitBeside(set, columns, 1 / Math.sqrt(scale));
    const chi2 = penalty + beside.freedom - beside.gain / (TEMPER * scale);
    return { ...beside, state, factor: model.plate.timeFactor(state), chi2 };
  });
  const least = Math.min(...fits.map(({ chi2 }) => chi2));
  return set.map((_, c): PowerToTell | null => {
    const inStates = fits.map(({ state, powersW }) => ({ state, powerW: powersW[c]! }));
    const byState = fits.map(({ state, powersW, variancesW2, apartW2, factor, chi2 }, k) => {
      const powerW = factor * powersW[c]!;
      // Untold warming plates tell too few watts (0.2 of the logarithm): there the wide one, which lets the feed say more, is nearer.
      const variance = (isTold ? variancesW2 : apartW2)[c]!;
      const noise2 = powerW > 0 ? Math.min(1, Math.max(0, scale * variance) / powersW[c]! ** 2) : 0;
      const between = isTold && model.plate.timeS === null ? withinState(inStates, k) : 0;
      const logSigma = Math.sqrt(noise2 + between ** 2 + model.plate.copperError(state) ** 2);
      return { chance: Math.exp(-0.5 * (chi2 - least)), powerW, logSigma };
    });
    const heats = byState.filter(({ powerW }) => powerW > 0);
    const weights = sumOf(heats, () => 1);
    if (!(weights > LEAST_WEIGHT)) return null;
    const mean = sumOf(heats, ({ powerW }) => Math.log(powerW)) / weights;
    const square = sumOf(heats, ({ powerW, logSigma }) => Math.log(powerW) ** 2 + logSigma ** 2) / weights;
    const power = {
      powerW: Math.exp(mean),
      powerLogSigma: Math.sqrt(Math.max(0, square - mean * mean)),
      powerNoiseW: 0,
    };
    if (isTold) return power;
    const all = sumOf(byState, () => 1);
    const states = byState.map((one) => ({ ...one, chance: one.chance / all }));
    const { powerW, powerLogSigma } = powerOverStates(states) ?? power;
    return { powerW, powerLogSigma, powerNoiseW: 0, byState: states };
  });
}

function sumOf(states: readonly PowerInState[], term: (one: PowerInState) => number): number {
  return states.reduce((sum, one) => sum + one.chance * term(one), 0);
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
