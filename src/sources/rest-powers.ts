// sources: the sources found on a plate at rest → their watts by the warmth of the whole board, whatever its copper.
import { addSquared } from "../numeric/pixel-errors.js";
import { CandidatePool } from "./candidate-pool.js";
import { UNEVEN_COPPER } from "./copper-fields.js";
import type { FitParts } from "./mirrored-places.js";
import { ProjectedFit } from "./projected-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** Watts of one source, and the variance that noise makes of them, W². */
export interface RestPower {
  readonly powerW: number;
  readonly varianceW2: number;
}

/** Fit the watts of a set anew, each pixel known no better than copper is even. The rise close to a source goes as the
 *  copper there; at rest all that is fed in leaves by the board's faces, so that its warmth, summed up, tells the watts
 *  on any copper. The error in proportion to the rise keeps what is close from outweighing what is far.
 *  @param modelled what the set makes, K per pixel; not modified.
 *  @returns one per candidate; null while the plate still warms: its watts go into the plate, and as its copper spreads
 *  them.
 */
export function restPowers(
  model: SourceModel,
  { rise, variance, nuisance, state, scale }: FitParts,
  set: readonly Candidate[],
  modelled: Float32Array,
): RestPower[] | null {
  if (state.kind !== "steady") return null;
  const uneven = addSquared(variance, modelled, UNEVEN_COPPER);
  const pool = new CandidatePool(model, new ProjectedFit(rise, uneven, nuisance), state);
  const { powersW, variancesW2 } = pool.fitSet(set);
  return set.map((_, c) => ({ powerW: powersW[c]!, varianceW2: Math.max(0, variancesW2[c]! * scale) }));
}
