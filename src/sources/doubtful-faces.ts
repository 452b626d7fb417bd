// sources: the set found → the part that is least probably heat, and what is left where nothing surely heats.

import { aroundError } from "./around-error.js";
import { type HeatJudge, heatLogOddsInSet } from "./heat-log-odds.js";
import { holds } from "./open-candidates.js";
import { isFault, mirrorOf } from "./recast-candidate.js";
import type { Candidate } from "./source-model.js";
import type { SourceWeight } from "./weigh-set.js";

/** A fault that is surely heat with any of these errors of what is seen around faces needs no comparison with other
 *  parts. */
const AROUND_ERRORS = [3, 10];

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

/** Take all that heats for mirrors where nothing surely does.
 *  @param byHill true of a part that the board around it tells by itself, whatever its face shows.
 *  @returns null where something does, or nothing was found to heat.
 */
export function withoutHeat(
  judge: HeatJudge,
  set: readonly Candidate[],
  weights: readonly SourceWeight[],
  byHill: (candidate: Candidate) => boolean,
): Candidate[] | null {
  const { aloneHeatOdds, unfedHeatOdds, fedW } = judge.options;
  const least = aloneHeatOdds + (fedW === 0 ? unfedHeatOdds : 0);
  const judged = set.map(
    (one, c) => isFault(one) || (one.kind === "heat" && one.body !== null && weights[c]!.stands),
  );
  if (!judged.includes(true)) return null;
  const anySure = (by: HeatJudge) =>
    set.some((one, c) => judged[c]! && heatLogOddsInSet(by, one, set) >= least);
  const sureWith = (error: number) => anySure({ ...judge, doubt: { aroundError: error } });
  if (anySure(judge)) {
    if (AROUND_ERRORS.every(sureWith) || sureWith(aroundError(judge, set))) return null;
  }
  // Where the meter showed no power a hill is no more sure than a face.
  if (fedW !== 0 && set.some((one) => isFault(one) && one.body !== null && byHill(one))) return null;
  const mirrors = set.filter(({ kind }) => kind === "mirror");
  // Heat under a face that is a mirror already leaves that one.
  return set.flatMap((one, c) => (judged[c]! ? (holds(mirrors, one) ? [] : [mirrorOf(one)]) : [one]));
}
