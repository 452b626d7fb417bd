// sources: a candidate beside what was found → log odds that its change is heat.
import type { ResolvedOptions } from "../core/options.js";
import type { StatePool } from "./average-powers.js";
import type { CandidatePool } from "./candidate-pool.js";
import type { FIT_DEFAULTS } from "./fit-defaults.js";
import { hillLogOdds } from "./hill-log-odds.js";
import { oddsOverStates } from "./odds-over-states.js";
import { isFault } from "./recast-candidate.js";
import type { Candidate, SourceModel } from "./source-model.js";
import { type FaceDoubt, type RoomOfFace, weighFace } from "./weigh-face.js";

/** What a change is judged by. */
export interface HeatJudge {
  readonly model: SourceModel;
  /** In the state that the search is in. */
  readonly pool: CandidatePool;
  /** One for every state of the plate. */
  readonly pools: () => readonly StatePool[];
  /** By how much χ² overstates the evidence. */
  readonly scale: number;
  /** The room that a candidate's face mirrors. */
  readonly room: (candidate: Candidate) => RoomOfFace;
  readonly options: ResolvedOptions<typeof FIT_DEFAULTS>;
  /** What else may make a change on a face; not asked if not given. */
  readonly doubt?: FaceDoubt;
}

/** Between these log odds, in the state at hand, another state may decide. */
const DOUBTFUL = Object.freeze({ from: -5, to: 4 });
/** States that explain the rest worse by this much, χ² ÷ scale, don't count: one in 22,000 (e^−10). */
const HOPELESS = 20;

/** Log odds that the change on a candidate is heat. Of one that stands alone, over all states of the plate: what is
 *  known of the plate is then known from its heat alone, and the state that fits it best need not be the one that makes
 *  it heat.
 */
export function heatLogOdds(judge: HeatJudge, candidate: Candidate, others: readonly Candidate[]): number {
  const { model, pool, scale, options: o } = judge;
  if (candidate.body === null) {
    if (candidate.normallyWarm) return Number.POSITIVE_INFINITY;
    // Alone, heat that shows no part is heat all the same; beside a part that does show, it may be the plate model.
    const shown = others.some((other) => isFault(other) && other.body !== null);
    const hidden = shown ? o.heatOddsHidden : Number.POSITIVE_INFINITY;
    // Of a part whose own face mirrors the hill around it tells, which may be mirrored as well.
    const mirrors = others.some((one) => one.kind === "mirror" && one.footprint === candidate.footprint);
    if (candidate.region >= 0 && !mirrors) return hidden;
    const both = pool.fitSet([...others, candidate]);
    const gain = (both.gain - pool.fitSet(others).gain) / scale;
    const odds = hillLogOdds(judge, candidate, both.powersW[others.length]!, gain);
    return Math.min(hidden, candidate.region >= 0 ? odds : odds + o.unnamedHillOdds);
  }
  if (o.followsSupply) return Number.POSITIVE_INFINITY;
  const room = judge.room(candidate);
  const inState = (one: CandidatePool) =>
    weighFace(model, one, candidate, others, scale, room, judge.doubt) ?? o.leastHeatOdds;
  const logOdds = inState(pool);
  const doubtful = logOdds > DOUBTFUL.from && logOdds < DOUBTFUL.to;
  if (!doubtful || candidate.normallyWarm || others.some(isFault)) return logOdds;
  const states = judge.pools().map(({ pool: one, penalty }) => ({
    one,
    gain: one.fitSet(others).gain / scale,
    penalty,
  }));
  const most = Math.max(...states.map(({ gain, penalty }) => gain - penalty));
  return oddsOverStates(
    states
      .filter(({ gain, penalty }) => gain - penalty > most - HOPELESS)
      .map(({ one, gain, penalty }) => ({ logOdds: one === pool ? logOdds : inState(one), gain, penalty })),
  );
}

/** The same for one of a set beside the rest of it, in the order in which it was built up. What was taken for a mirror
 *  after a source explains what the source's shape had left: it does not take the source's odds away. Parts that warm
 *  on a healthy board too are in the set from the start, whatever they explain: all mirrors speak against them.
 */
export function heatLogOddsInSet(judge: HeatJudge, candidate: Candidate, set: readonly Candidate[]): number {
  const others = set.filter((other) => other !== candidate);
  const logOdds = heatLogOdds(judge, candidate, others);
  if (candidate.normallyWarm) return logOdds;
  const from = set.indexOf(candidate);
  const earlier = set.filter((other, k) => other !== candidate && (k < from || other.kind !== "mirror"));
  if (logOdds >= judge.options.leastHeatOdds || earlier.length === others.length) return logOdds;
  return Math.max(logOdds, heatLogOdds(judge, candidate, earlier));
}
