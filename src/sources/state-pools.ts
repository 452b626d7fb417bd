// sources: the state of the plate that the search is in → its candidates in that state and in all others.
import type { StatePool } from "./average-powers.js";
import { CandidatePool } from "./candidate-pool.js";
import type { PlateState } from "./plate-state.js";
import type { ProjectedFit } from "./projected-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** Lay out the candidates in each of some states, all of the model's as a rule, with χ² against each: a state that is
 *  not usual has nothing else to hold it where there is no heat.
 *  @param at whose pool is taken for its own state.
 */
export function statePools(
  {
    model,
    fit,
    pool,
  }: { readonly model: SourceModel; readonly fit: ProjectedFit; readonly pool: CandidatePool },
  states: readonly PlateState[] = model.states,
): StatePool[] {
  return states.map((state) => ({
    pool: state === pool.state ? pool : new CandidatePool(model, fit, state),
    penalty: model.penaltyOf(state),
  }));
}

/** The state, with its candidates, that explains a set best; its own where none does better. */
export function likeliestPool(
  run: Parameters<typeof statePools>[0] & {
    readonly set: readonly Candidate[];
    readonly answer: { readonly gain: number };
    readonly scale: number;
  },
): CandidatePool {
  const { model, set, scale } = run;
  let [best, most] = [run.pool, run.answer.gain - model.penaltyOf(run.pool.state) * scale];
  for (const { pool, penalty } of statePools(run)) {
    const gain = pool.fitSet(set).gain - penalty * scale;
    if (gain > most) [best, most] = [pool, gain];
  }
  return best;
}
