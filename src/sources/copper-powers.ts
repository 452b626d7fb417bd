// sources: the sources found and the states of a told plate → their watts whatever the copper, and how unsure they are.

import { addSquared } from "../numeric/pixel-errors.js";
import { POWER_ERRORS, type StatePool } from "./average-powers.js";
import { CandidatePool } from "./candidate-pool.js";
import { copperFields } from "./copper-fields.js";
import type { FitParts } from "./mirrored-places.js";
import type { NuisanceColumn } from "./nuisance-columns.js";
import { ProjectedFit } from "./projected-fit.js";
import type { PowerToTell } from "./source-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** States that are fitted with uneven copper: of those that fit best on even copper, so many … */
const MOST_STATES = 5;
/** … as may come out best once copper bends them: by this share of what is explained, and this many times the scale. */
const STATE_REACH = Object.freeze({ share: 0.015, scales: 40 });
/** Fields at some places, to first order, don't follow copper to the noise: χ² counts by so much less, and a pixel is known no better
 *  than this share of what the set makes there. Half of the square of a third is left out, and the parts' own shapes are close by. */
const TEMPER = 2;
const REST_SHARE = 0.2;
/** Heat that has come less far, mm, has met one copper only, and what the fields would follow is the part's own shape. */
const LEAST_SPREAD_MM = 5;

/** The priors of smooth change are wide, so that none is taken for heat: each wave may be as large as all together are. Here they
 *  may be so together. */
const SMOOTH_SHARE = 0.4;
/** The level is taken from the board's surroundings: it is out by what drift is not even, as the longest wave is, and at least so much, K. */
const LEAST_LEVEL_K = 0.03;

/** Fit the watts of a set anew, on copper that is not even. The rise close to a source goes as the copper there, and how far heat has
 *  come as the copper on its way. Copper carries heat about and keeps none: what all the board shows tells the watts at rest, and
 *  while it warms as soon as the time is known; where it is not, the time is told by all that the copper does not change.
 *  @param parts what the set was fitted with. @param modelled what it makes, K per pixel; not modified.
 *  @param pools one for every state.
 *  @returns one per candidate, null for those that have no watts; null where the map does not tell the plate, and where heat has
 *  hardly spread in a time that is not known.
 */
export function copperPowers(
  model: SourceModel,
  parts: FitParts,
  set: readonly Candidate[],
  modelled: Float32Array,
  pools: readonly StatePool[],
): (PowerToTell | null)[] | null {
  const { scale } = parts;
  if (pools.some(({ pool }) => pool.state.timeConstants === undefined)) return null;
  const likely = likeliestStates(set, pools, scale);
  const { stepMm, steps } = model.wayTo(likely[0]!.pool.state);
  if (!model.timeKnown && stepMm * Math.sqrt(steps) < LEAST_SPREAD_MM) return null;
  const powersW = likely[0]!.pool.fitSet(set).powersW;
  const heating = set.flatMap((candidate, c) => {
    const footprint = powersW[c]! > 0 ? model.copper.footprint(candidate.polygon) : null;
    return footprint === null ? [] : [{ at: candidate.at, c, footprint }];
  });
  if (heating.length === 0) return null;
  const fields = copperFields(
    model.copper.grid,
    heating.map(({ at }) => at),
  );
  const fit = new ProjectedFit(
    parts.rise,
    addSquared(parts.variance, modelled, REST_SHARE),
    calm(parts.nuisance),
  );
  const fits = likely.map(({ pool: { state }, penalty }) => {
    const pool = new CandidatePool(model, fit, state);
    const even = pool.fitSet(set);
    const heats = heating.map(({ c, footprint }) => ({ footprint, powerW: even.powersW[c]! }));
    const columns = model.copper.columns(fields, heats, model.wayTo(state));
    const beside = pool.fitBeside(set, columns, 1 / Math.sqrt(scale));
    const chi2 = penalty + beside.freedom - beside.gain / (TEMPER * scale);
    return { ...beside, factor: model.timeFactor(state), chi2 };
  });
  const least = Math.min(...fits.map(({ chi2 }) => chi2));
  const constants = model.capacityTold ? POWER_ERRORS.copper : POWER_ERRORS.copperBySize;
  return set.map((_, c): PowerToTell | null => {
    let [weights, mean, square] = [0, 0, 0];
    for (const { powersW, variancesW2, factor, chi2 } of fits) {
      const powerW = powersW[c]!;
      if (!(powerW > 0)) continue;
      const weight = Math.exp(-0.5 * (chi2 - least));
      const log = Math.log(factor * powerW);
      weights += weight;
      mean += weight * log;
      square += weight * (log * log + Math.min(1, (scale * variancesW2[c]!) / powerW ** 2));
    }
    if (!(weights > LEAST_WEIGHT)) return null;
    mean /= weights;
    const spread2 = Math.max(0, square / weights - mean * mean);
    return { powerW: Math.exp(mean), powerLogSigma: Math.sqrt(spread2 + constants ** 2), powerNoiseW: 0 };
  });
}

/** States that count for less than this, of the one that counts most, give no watts. */
const LEAST_WEIGHT = 1e-6;

/** States that fit best on even copper, best first. */
function likeliestStates(set: readonly Candidate[], pools: readonly StatePool[], scale: number): StatePool[] {
  const tried = pools.map((one) => ({ one, worth: one.pool.fitSet(set).gain - scale * one.penalty }));
  const best = Math.max(...tried.map(({ worth }) => worth));
  return tried
    .filter(({ worth }) => worth >= best - STATE_REACH.share * Math.abs(best) - STATE_REACH.scales * scale)
    .sort((a, b) => b.worth - a.worth)
    .slice(0, MOST_STATES)
    .map(({ one }) => one);
}

/** Level and smooth change as large as they are together; the copper's own waves are the fields' business. */
function calm(nuisance: readonly NuisanceColumn[]): NuisanceColumn[] {
  const smooth = nuisance.filter(({ what }) => what === "smooth").map(({ priorSigma }) => priorSigma);
  const levelK = Math.max(LEAST_LEVEL_K, SMOOTH_SHARE * Math.max(0, ...smooth));
  return nuisance.flatMap((one): NuisanceColumn[] => {
    if (one.what === "uneven") return [];
    if (one.what === "level") return [{ ...one, priorSigma: Math.min(one.priorSigma, levelK) }];
    return one.what === "smooth" ? [{ ...one, priorSigma: SMOOTH_SHARE * one.priorSigma }] : [one];
  });
}
