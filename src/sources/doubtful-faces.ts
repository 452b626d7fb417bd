// sources: the set found → the part that is least probably heat, and the mirror that most probably is.
import { type HeatJudge, heatLogOdds, heatLogOddsInSet } from "./heat-log-odds.js";
import { isFault } from "./recast-candidate.js";
import type { Candidate } from "./source-model.js";

/** The part in view that is least probably heat beside the rest of the set; null where all of them probably are. */
export function mostDoubtful(judge: HeatJudge, set: readonly Candidate[]): Candidate | null {
  let [worst, least]: [Candidate | null, number] = [null, judge.options.leastHeatOdds];
  for (const candidate of set) {
    if (!isFault(candidate) || candidate.body === null) continue;
    const logOdds = heatLogOddsInSet(judge, candidate, set);
    if (logOdds < least) [worst, least] = [candidate, logOdds];
  }
  return worst;
}

/** The mirror that is most probably heat beside the rest of the set, and the same part as heat; null where none clearly is. */
export function heatingMirror(
  judge: HeatJudge,
  all: readonly Candidate[],
  set: readonly Candidate[],
): [Candidate, Candidate] | null {
  let [best, most]: [[Candidate, Candidate] | null, number] = [null, judge.options.clearHeatOdds];
  const asMirrors = judge.pool.fitSet(set).gain;
  for (const mirror of set) {
    if (mirror.kind !== "mirror" || mirror.region < 0 || mirror.body === null) continue;
    const others = set.filter((other) => other !== mirror);
    const heat = all.find(({ region }) => region === mirror.region)!;
    if (judge.pool.fitSet([...others, heat]).gain <= asMirrors) continue;
    const logOdds = heatLogOdds(judge, heat, others);
    if (logOdds > most) [best, most] = [[mirror, heat], logOdds];
  }
  return best;
}
