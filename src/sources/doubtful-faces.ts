// sources: the set found → the part that is least probably heat, the mirror that most probably is, and what is left where nothing surely heats.
import { type HeatJudge, heatLogOdds, heatLogOddsInSet } from "./heat-log-odds.js";
import { holds } from "./open-candidates.js";
import { isFault, mirrorOf } from "./recast-candidate.js";
import type { Candidate } from "./source-model.js";
import type { SourceWeight } from "./weigh-set.js";

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

/** Take all that heats for mirrors where nothing surely does.
 *  @returns null where something does, or nothing was found to heat.
 */
export function withoutHeat(
  judge: HeatJudge,
  set: readonly Candidate[],
  weights: readonly SourceWeight[],
): Candidate[] | null {
  const { aloneHeatOdds, unfedHeatOdds, fedW } = judge.options;
  const least = aloneHeatOdds + (fedW === 0 ? unfedHeatOdds : 0);
  const judged = set.map(
    (one, c) => isFault(one) || (one.kind === "heat" && one.body !== null && weights[c]!.stands),
  );
  const isSure = (one: Candidate, c: number) => judged[c]! && heatLogOddsInSet(judge, one, set) >= least;
  if (!judged.includes(true) || set.some(isSure)) return null;
  const mirrors = set.filter(({ kind }) => kind === "mirror");
  // Heat under a face that is a mirror already leaves that one.
  return set.flatMap((one, c) => (judged[c]! ? (holds(mirrors, one) ? [] : [mirrorOf(one)]) : [one]));
}
