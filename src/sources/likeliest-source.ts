// sources: nothing was surely found though power was fed in → the candidate that most probably took it.
import { besideKPerW } from "./face-k-per-w.js";
import { type HeatJudge, heatLogOdds } from "./heat-log-odds.js";
import { HEAT_OR_MIRROR_DEFAULTS, heatOrMirror } from "./heat-or-mirror.js";
import { agreesWithFeed } from "./hold-against-feed.js";
import { isFault } from "./recast-candidate.js";
import type { Candidate } from "./source-model.js";

/** Evidence below which a candidate is not worth a look: 3 σ. */
const LEAST_LOOK = 9;
/** How probable it is that what was fed in shows nowhere, against one candidate of even odds: too weak, or in a lead. */
const UNSEEN = 1.5;
/** Log odds beyond which nothing is surer. */
const SURELY = 50;
/** Span over which watts of all magnitudes are equally probable, as long as no feed is known: its logarithm. */
const WATT_SPAN = Math.log(HEAT_OR_MIRROR_DEFAULTS.wattSpan[1] / HEAT_OR_MIRROR_DEFAULTS.wattSpan[0]);

/** A candidate in the place of all that was taken for mirrors. */
export interface LikeliestSource {
  /** What was found, without the candidate as a mirror. */
  readonly others: readonly Candidate[];
  readonly candidate: Candidate;
  /** Log odds that it heats against all else that may have taken the power. */
  readonly logOdds: number;
}

/** Weigh all candidates against each other. By itself each was as well a mirror, but not all of them can be: the power that was fed
 *  in warms something. Bayes over which one it is, the odds of each against a mirror being its likelihood.
 *  @param set what was found.
 *  @param seenW watts of what stands among it.
 *  @returns null where no feed is known, where what was found took most of it, and where no part is likely enough.
 */
export function likeliestSource(
  judge: HeatJudge,
  all: readonly Candidate[],
  set: readonly Candidate[],
  seenW: number,
): LikeliestSource | null {
  const { fedW, mostSeenOfFed, leastFedChance } = judge.options;
  if (fedW === null || !(fedW > 0) || seenW > mostSeenOfFed * fedW || set.some(isFault)) return null;
  const weighed = all.flatMap((candidate): LikeliestSource[] => {
    const others = set.filter(({ footprint }) => footprint !== candidate.footprint);
    const logOdds = oddsOf(judge, candidate, others, fedW);
    return logOdds === null ? [] : [{ others, candidate, logOdds }];
  });
  const odds = weighed.map(({ logOdds }) => Math.exp(Math.min(logOdds, SURELY)));
  const best = odds.indexOf(Math.max(...odds));
  if (best < 0 || !isFault(weighed[best]!.candidate)) return null;
  const rest = odds.reduce((sum, one, k) => (k === best ? sum : sum + one), UNSEEN);
  if (odds[best]! < leastFedChance * (odds[best]! + rest)) return null;
  return { ...weighed[best]!, logOdds: Math.log(odds[best]! / rest) };
}

/** Log odds against a mirror; null of what explains next to nothing. */
function oddsOf(
  judge: HeatJudge,
  candidate: Candidate,
  others: readonly Candidate[],
  fedW: number,
): number | null {
  const { pool, scale, model } = judge;
  const both = pool.fitSet([...others, candidate]);
  const gain = (both.gain - pool.fitSet(others).gain) / scale;
  if (!(gain >= LEAST_LOOK)) return null;
  const aroundW = both.powersW[others.length]!;
  const agreement = WATT_SPAN * agreesWithFeed(aroundW / fedW, model.powerError(pool.state));
  const byFrames =
    candidate.body === null
      ? oddsOfHill(judge, candidate, aroundW, gain)
      : heatLogOdds(judge, candidate, others);
  return byFrames + Math.log(agreement + 1e-30);
}

/** Log odds of heat that shows no face: the hill alone tells, and rooms mirrored in the mask make such too. */
function oddsOfHill(
  { model, pool, roomK }: HeatJudge,
  candidate: Candidate,
  aroundW: number,
  gain: number,
): number {
  return heatOrMirror({
    what: "freePlace",
    stepAtNoneK: 0,
    stepPerWattK: 0,
    stepSigmaK: 0,
    roomK: roomK(candidate),
    emissivity: candidate.emissivity,
    shinyChance: 0,
    areaMm2: 0,
    aroundW,
    aroundSigmaW: aroundW / Math.sqrt(gain),
    besideKPerW: besideKPerW(model, candidate, pool.state),
    underKPerW: 0,
    conductanceKnown: model.plateKnown,
    alone: true,
  });
}
