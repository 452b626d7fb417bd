// sources: power surely went in and no fault was found → the candidate that most probably took it.
import { type HeatJudge, heatLogOdds } from "./heat-log-odds.js";
import { HEAT_OR_MIRROR_DEFAULTS } from "./heat-or-mirror.js";
import { hillLogOdds } from "./hill-log-odds.js";
import { agreesWithFeed } from "./hold-against-feed.js";
import { SURELY } from "./odds-over-states.js";
import { isFault } from "./recast-candidate.js";
import type { Candidate } from "./source-model.js";

/** Evidence below which a candidate is not worth a look: 3 σ. */
const LEAST_LOOK = 9;
/** Log odds of heat against noise are half its evidence E less this: watts of any size are expected, and these are
 *  seen. Over the span below ln(span·√(E/2π)) is to be taken off: 2.4 at E = 9, 2.9 at 25, 3.6 at 100, 4 at 220. */
const NOISE_COST = 4;
/** How probable it is that what was fed in shows nowhere, against one candidate of even odds: too weak, in a lead, or
 *  all in parts that warm anyway. With 8 and 16 the chances of parts were a third of how often they were right (record
 *  288). */
const UNSEEN = 1.5;
/** Span over which watts of all magnitudes are equally probable, as long as no feed is known: its logarithm. */
const WATT_SPAN = Math.log(HEAT_OR_MIRROR_DEFAULTS.wattSpan[1] / HEAT_OR_MIRROR_DEFAULTS.wattSpan[0]);

/** The chance that a candidate is the one. */
export interface CandidateChance {
  readonly candidate: Candidate;
  readonly probability: number;
}

/** A candidate in the place of all that was taken for mirrors. */
export interface LikeliestSource {
  /** What was found, without the candidate as a mirror. */
  readonly others: readonly Candidate[];
  readonly candidate: Candidate;
  /** Log odds that it heats against all else that may have taken the power. */
  readonly logOdds: number;
  /** The chance of each that was weighed; what is missing to 1 is that none of them shows it. */
  readonly chances: readonly CandidateChance[];
}

/** The power that there is. */
interface KnownPower {
  /** Watts of what stands. */
  readonly seenW: number;
  /** Watts fed in; null where not known. */
  readonly fedW: number | null;
}

/** Weigh all candidates against each other where power surely went in and no fault was found: volts and amps tell so,
 *  or parts that warm on a healthy board do. By itself each candidate was as well a mirror, or noise, but what was fed
 *  in warms something. Bayes over which one it is, the odds of each being its likelihood.
 *  @param set what was found. Faults in it that don't stand are weighed like all other candidates.
 *  @param standing watts of each of it that surely heats.
 *  @returns null where no power is known of, where a fault was surely found, and where no part is likely enough. Where
 *  what was fed in most probably went to a part that warms anyway, that part.
 */
export function likeliestSource(
  judge: HeatJudge,
  all: readonly Candidate[],
  set: readonly Candidate[],
  standing: ReadonlyMap<Candidate, number>,
): LikeliestSource | null {
  const { fedW, leastFedChance, leastFedChanceAlone } = judge.options;
  const seenW = [...standing.values()].reduce((sum, powerW) => sum + powerW, 0);
  if (fedW === null ? !(seenW > 0) : !(fedW > 0)) return null;
  if (set.some((one) => isFault(one) && standing.has(one))) return null;
  const unsure = set.filter(isFault);
  const rest = set.filter((one) => !isFault(one));
  const sameFace = (candidate: Candidate) => (one: Candidate) => one.footprint === candidate.footprint;
  // Where one part that warms anyway surely does, another that may as well is no rival: a fault would heat beside it.
  const isRival = (one: Candidate) => isFault(one) || !(seenW > 0);
  const open = all.filter((one) => isRival(one) && !unsure.some(sameFace(one)) && !standing.has(one));
  const weighed = [...unsure, ...open].flatMap((candidate) => {
    // What was found stands beside what was taken for its face's mirrored room.
    const others = unsure.includes(candidate) ? rest : rest.filter((one) => !sameFace(candidate)(one));
    const logOdds = oddsOf(judge, candidate, others, { seenW, fedW });
    return logOdds === null ? [] : [{ others, candidate, logOdds }];
  });
  const odds = weighed.map(({ logOdds }) => Math.exp(Math.min(logOdds, SURELY)));
  const best = odds.indexOf(Math.max(...odds));
  if (best < 0) return null;
  const against = odds.reduce((sum, one, k) => (k === best ? sum : sum + one), UNSEEN);
  const least = seenW > 0 ? leastFedChance : leastFedChanceAlone;
  if (odds[best]! < least * (odds[best]! + against)) return null;
  const chances = weighed
    .map(({ candidate }, k) => ({ candidate, probability: odds[k]! / (odds[best]! + against) }))
    // A part that warms anyway says nothing of what else may heat.
    .filter((_, k) => k === best || isFault(weighed[best]!.candidate));
  return { ...weighed[best]!, logOdds: Math.log(odds[best]! / against), chances };
}

/** Log odds against a mirror, or noise; null of what explains next to nothing. */
function oddsOf(
  judge: HeatJudge,
  candidate: Candidate,
  others: readonly Candidate[],
  known: KnownPower,
): number | null {
  const { pool, scale, model } = judge;
  const both = pool.fitSet([...others, candidate]);
  const gain = (both.gain - pool.fitSet(others).gain) / scale;
  if (!(gain >= LEAST_LOOK)) return null;
  const aroundW = both.powersW[others.length]!;
  const byFrames =
    candidate.body === null
      ? hillLogOdds(judge, candidate, aroundW, gain)
      : heatLogOdds(judge, candidate, others);
  const agreement = WATT_SPAN * agreementOf(aroundW, known, model.plate.powerError(pool.state));
  return Math.min(byFrames, 0.5 * gain - NOISE_COST) + Math.log(agreement + 1e-30);
}

/** How much better a candidate's watts agree with the power that there is than any others would: every share of it is
 *  as likely as any other, and all together have no more than was fed in. Where nobody told, what is seen is all there
 *  is. */
function agreementOf(aroundW: number, { seenW, fedW }: KnownPower, logSigma: number): number {
  const allW = seenW + aroundW;
  const told = fedW === null ? 1 : agreesWithFeed(allW / fedW, logSigma);
  return (aroundW / allW) * told;
}
