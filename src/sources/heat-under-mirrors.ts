// sources: the set that a search settled on → a part in view that mirrors and, in its own state of the plate, explains
// more.
import type { CandidatePool } from "./candidate-pool.js";
import { holds } from "./open-candidates.js";
import { isFault } from "./recast-candidate.js";
import type { Candidate } from "./source-model.js";
import type { SourceSearch } from "./source-search.js";
import { statePools } from "./state-pools.js";

/** A set in a state of the plate. */
export interface SetInState {
  readonly set: Candidate[];
  readonly pool: CandidatePool;
}

/** Try the parts in view that mirror, alone or in the place of the one fault found, in all states of the plate. Such a
 *  part tells by the board around it alone, and only in about the state that the heat is in: in another one what lies
 *  beside it, or under it, explains more, and the state then follows that.
 *  @param wanted evidence that a candidate must bring.
 *  @returns null where none explains more, and enough.
 */
export function heatUnderMirrors(
  run: Pick<SourceSearch, "model" | "fit" | "pool" | "set" | "answer" | "scale" | "state">,
  all: readonly Candidate[],
  wanted: (candidate: Candidate) => number,
): SetInState | null {
  const { model, set, answer, scale } = run;
  const faults = set.filter(isFault);
  const isOpen = (one: Candidate) =>
    one.region >= 0 && one.body === null && !one.normallyWarm && !holds(set, one) && isInView(model, one);
  const mirrors = faults.length > 1 ? [] : all.filter(isOpen);
  if (mirrors.length === 0) return null;
  const rest = set.filter((one) => !isFault(one));
  let best: SetInState | null = null;
  let most = answer.gain - model.penaltyOf(run.state) * scale + 1e-9;
  for (const { pool, penalty } of statePools(run)) {
    const without = pool.gainOf(rest);
    for (const candidate of mirrors) {
      const gain = pool.gainOf([...rest, candidate]);
      if (gain - penalty * scale <= most || gain - without < wanted(candidate) * scale) continue;
      most = gain - penalty * scale;
      best = { set: [...rest, candidate], pool };
    }
  }
  return best;
}

function isInView({ pictures }: SourceSearch["model"], { side }: Candidate): boolean {
  return pictures.some(({ view }) => view.side === side);
}
