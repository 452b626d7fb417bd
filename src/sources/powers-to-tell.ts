// sources: the sources found → the watts that are told: on uneven copper, or in the rhythm of the supply.
import { alternatingPowers } from "./alternating-powers.js";
import type { StatePool } from "./average-powers.js";
import { copperPowers } from "./copper-powers.js";
import type { FitParts } from "./mirrored-places.js";
import type { PowerToTell } from "./source-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** What a set was fitted with, and the picture a quarter of a period behind where the supply goes on and off. */
interface Parts extends FitParts {
  readonly quadrature: Float32Array | null;
}

/** Fit the watts of a set anew, see `copperPowers` and `alternatingPowers`.
 *  @returns null: those of the search stand.
 */
export function powersToTell(
  model: SourceModel,
  parts: Parts,
  set: readonly Candidate[],
  modelled: Float32Array,
  pools: readonly StatePool[],
): (PowerToTell | null)[] | null {
  const { alternating } = model;
  if (alternating === null) return copperPowers(model, parts, set, modelled, pools);
  const { quadrature } = parts;
  return quadrature && alternatingPowers(model, alternating, parts, quadrature, set, modelled);
}
