// sources: heat found, and a weaker source beside it → the evidence for it that uneven copper can't make.
import type { OptionsOf } from "../core/options.js";
import { CandidatePool, type SetFit } from "./candidate-pool.js";
import { boardColumn } from "./column.js";
import { heatOfSet } from "./heat-of-set.js";
import type { FitParts } from "./mirrored-places.js";
import { type NuisanceColumn, productOf, smoothWaves } from "./nuisance-columns.js";
import { ProjectedFit } from "./projected-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** Defaults of `evidenceOnUneven`. */
export const UNEVEN_DEFAULTS = Object.freeze({
  /** By how much one wave over the board changes a modelled rise, as a share of it: copper that varies by a third from
   *  place to place changes the rise around a source by about a tenth. */
  share: 0.03,
  /** Shortest wave, mm: planes and voids are some millimetres wide, and heat evens out what is smaller. */
  wavelengthMm: 14,
});

/** Weigh a source beside stronger ones, whose heat spreads otherwise than a plate of even copper tells: it may be
 *  raised and lowered in waves over the board.
 *  @param set all that was found. @param answer its fit.
 *  @param c which of them is weighed.
 *  @returns χ² that the source takes off beyond what the waves do, ÷ scale.
 */
export function evidenceOnUneven(
  model: SourceModel,
  parts: FitParts,
  set: readonly Candidate[],
  answer: SetFit,
  c: number,
  options: OptionsOf<typeof UNEVEN_DEFAULTS> = {},
): number {
  const pool = unevenPool(model, parts, heatOfSet(model, parts.state, set, answer, c), options);
  const others = set.filter((_, k) => k !== c);
  return (pool.fitSet(set).gain - pool.fitSet(others).gain) / parts.scale;
}

/** Candidates beside heat that may be raised and lowered in waves over the board.
 *  @param heat K per pixel; not modified.
 */
export function unevenPool(
  model: SourceModel,
  parts: FitParts,
  heat: Float32Array,
  options: OptionsOf<typeof UNEVEN_DEFAULTS> = {},
): CandidatePool {
  const shapes = unevenWaves(model, heat, options);
  const fit = new ProjectedFit(parts.rise, parts.variance, [...parts.nuisance, ...shapes]);
  return new CandidatePool(model, fit, parts.state);
}

/** The heat times waves over the board, for every picture.
 *  @param heat K per pixel; not modified.
 */
export function unevenWaves(
  model: SourceModel,
  heat: Float32Array,
  options: OptionsOf<typeof UNEVEN_DEFAULTS> = {},
): NuisanceColumn[] {
  const o = { ...UNEVEN_DEFAULTS, ...options };
  const shape = {
    boardLevelK: 1,
    smoothK: o.share,
    smoothWavelengthMm: o.wavelengthMm,
    blurWidths: 0,
    restK: 0,
  };
  return model.pictures.flatMap((picture) => {
    const { at } = picture;
    const own = new Float32Array(at.length);
    for (let k = 0; k < own.length; k++) own[k] = heat[at[k]!]!;
    const alone = model.pictures.length === 1;
    return smoothWaves(model.outline, picture, 0, shape).flatMap(
      ({ what, values, priorSigma }): NuisanceColumn[] =>
        what === "level"
          ? []
          : [{ what: "uneven", column: boardColumn(at, productOf(own, values), alone), priorSigma }],
    );
  });
}
