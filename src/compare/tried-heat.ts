// compare: what the fit gives a part beside all else that it found → what an attempt that does not list it says of its
// heat.
import { raiseTo } from "../core/raise-to.js";
import type { PartFindings } from "../findings/parts-schema.js";
import { zForTail } from "../numeric/normal-distribution.js";
import { LEAST_GAIN, risenStep, standsOut, stepSigmas } from "./uneven.js";

/** A part that the other attempt lists is taken to heat here as well from this evidence on. Of 3918 dull
 *  faces in view that did not heat, in 96 simulated jobs, 71 brought as much; of 15 that heated and were not listed 11
 *  did. */
const KNOWN_EVIDENCE = 12;
/** … or from this on, where its face stands out as well: of 90 parts whose heat was gone none had both. */
const STANDING_EVIDENCE = 6;
/** Below this share of its strength in the other attempt it is as good as gone. */
const LEAST_SHARE = 0.15;
/** A step of a face is clear from so many sigma of noise and unevenness on; a twentieth of it is none. */
const CLEAR_STEP = 3;
const LEAST_STEP = 0.05;
/** … and one that is left is a step from so many sigma of noise and this share on: of six parts that had
 *  become weaker all kept as much (0.09 to 0.24), of five that were gone and were left a tenth of the watts two. */
const KEPT_STEP = 3;
const KEPT_SHARE = 0.08;
/** Heat that neither attempt lists came or went where one of them brings this much evidence of it, with this share of
 *  the watts that would have been found by themselves, and the other next to none: what uneven copper makes is the same
 *  in both, as long as no other heat changed. Of those 3918 faces none was told so. */
const SURE_EVIDENCE = 20;
const SURE_SHARE = 0.4;
const NO_EVIDENCE = 6;
/** … nor more than this share of its watts. */
const NO_SHARE = 0.5;
/** … or this much of it, with as large a share of the watts and a step of the face that is so many sigma above what its
 *  place makes of warmth in the other attempt. Of 2482 pairs of cold faces that warmth around them reached alike none
 *  was told so; of ten that came or went six are. */
const STEPPED_EVIDENCE = 15;
const RISEN_STEP = 2;
/** Of cold parts the share that brings so much evidence falls with the exponential of this times its root: of 6242 in
 *  simulated jobs 10 %, 1.6 % and 0.2 % reach 4, 12 and 50. */
const COLD_FALL = 0.9;
/** Normally warm parts that neither attempt lists heat where the watts that both give them come to this share of what
 *  would just have been found (geometric mean), to no less than this share in either, with this much evidence together.
 *  Of 144 that were cold in simulated jobs one came to it, of ten that were warm all. */
const WARM_SHARE = 0.6;
const LEAST_WARM_SHARE = 0.3;
const WARM_EVIDENCE = 15;
/** … or to a quarter of it, where both faces stand out by so many sigma of noise and unevenness: of 390 jobs twelve
 *  that were warm do, and no cold one (the clearest has 4.4). */
const WARM_STEP = 5;
const STEPPED_WARM_SHARE = 0.25;
/** Other parts that neither attempt lists heat in both where each of them gives half of the watts that would have been
 *  found, brings this much evidence and shows this much of a step, and watts and step grew alike (logarithm): of 390
 *  jobs two that heat do, no cold one. */
const REPEATED_SHARE = 0.5;
const REPEATED_EVIDENCE = 10;
const REPEATED_STEP = 1.5;
const REPEATED_LOG = 0.4;
/** Evidence of a part that is not there: three in four cold ones bring less. */
const COLD_EVIDENCE = 2.25;
/** A tenth of the watts, and of the root of the evidence, is too much to be called gone: of 112 parts that were gone in
 *  simulated jobs three were left as much, of three that had become weaker by 3 to 6 times all. */
const LEFT_SHARE = 0.1;
/** What the fit gives parts that do not heat: this share of the watts that would just have been found (84 % of
 *  them). */
const COLD_SHARE = 0.15;
/** Upper ends are taken so many standard deviations up. */
const UPPER_SIGMAS = 2;

/** Whether an attempt was asked for parts that it does not list; older findings were not. */
export function isTried(part: PartFindings): boolean {
  return typeof part.triedEvidence === "number" && typeof part.triedW === "number";
}

/** Say whether an attempt that does not list a part shows its heat all the same, once the other attempt has named it.
 *  @param named the part in that attempt; null where its map does not have it.
 */
export function showsKnownHeat(part: PartFindings, named: PartFindings | null): boolean {
  if (!part.seen || lacksStep(part, named)) return false;
  if (named === null) return bringsEvidence(part, KNOWN_EVIDENCE);
  const asked = standsOut(part) ? STANDING_EVIDENCE : KNOWN_EVIDENCE;
  if (bringsEvidence(part, asked) && keepsStrength(part, named)) return true;
  return (
    keepsStep(part, named) &&
    bringsEvidence(part, STANDING_EVIDENCE) &&
    strengthShare(part, named) >= LEFT_SHARE
  );
}

/** Whether a part heats by no less than a small share of what the other attempt shows of it: a processor that ran
 *  there, and is given a hundredth here, does not run. */
export function keepsStrength(part: PartFindings, named: PartFindings): boolean {
  return strengthShare(part, named) >= LEAST_SHARE;
}

/** How strongly a part heats ÷ how strongly in the other attempt, at most 1: the geometric mean of ways that err for
 *  reasons of their own. Watts rest on the plate's state, which each attempt's fit finds anew; the root of the evidence
 *  does not, but a neighbour's errors make evidence too. The step of its face counts where it is one: in a neighbour's
 *  hill there may be none.
 */
function strengthShare(part: PartFindings, named: PartFindings): number {
  const share = (own: number | null | undefined, there: number | null | undefined) =>
    (there ?? 0) > 0 ? Math.min(1, (own ?? 0) / there!) : 1;
  const ways = [
    share(part.triedW, named.triedW),
    Math.sqrt(share(part.triedEvidence, named.triedEvidence)),
    ...((standsOut(part) && !named.shiny) || keepsStep(part, named)
      ? [share(part.contrastK, named.contrastK)]
      : []),
  ];
  const product = ways.reduce((all, way) => all * way, 1);
  return raiseTo(product, 1 / ways.length);
}

/** Whether the face still shows a step beyond noise where the other attempt shows it clearly: a third way beside watts
 *  and evidence. */
function keepsStep(part: PartFindings, named: PartFindings): boolean {
  if (part.shiny || part.contrastK === null || named.contrastK === null) return false;
  const clear = named.contrastK > CLEAR_STEP * (named.contrastSigmaK ?? 0);
  const least = Math.max(KEPT_STEP * (part.contrastSigmaK ?? 0), KEPT_SHARE * named.contrastK);
  return clear && part.contrastK > least;
}

/** Where the other attempt shows a clear step of the face and this one none, it is not the part that heats here,
 *  whatever else the fit would put there.
 */
function lacksStep(part: PartFindings, named: PartFindings | null): boolean {
  if (part.shiny || part.contrastK === null || (named?.contrastK ?? null) === null) return false;
  return stepSigmas(named!) > CLEAR_STEP && part.contrastK < LEAST_STEP * named!.contrastK!;
}

/** Say whether heat that neither attempt lists is there in one of them and not in the other.
 *  @param part there, @param other not.
 *  @param moved other heat came or went: then uneven copper makes evidence, and hollows, in one attempt that it does
 *  not make in the other, and a step that the face shows by itself must tell.
 */
export function cameOrWent(part: PartFindings, other: PartFindings, moved: boolean): boolean {
  if (!gaveMore(part, other) || (other.triedEvidence ?? 0) > NO_EVIDENCE) return false;
  if (!bringsWatts(part, SURE_SHARE)) return false;
  const rose = (risenStep(part, other) ?? 0) >= RISEN_STEP && (!moved || stepSigmas(part) >= RISEN_STEP);
  if (rose && bringsEvidence(part, STEPPED_EVIDENCE)) return true;
  // A face that the picture shows well would make a step.
  return !moved && (part.contrastGain ?? 0) < LEAST_GAIN && bringsEvidence(part, SURE_EVIDENCE);
}

/** Say whether a normally warm part that neither attempt lists heats in both: many such parts do, and cold ones are
 *  seldom given so large a share of the watts that would just have been found, twice. */
export function warmInBoth(part: PartFindings, other: PartFindings): boolean {
  if (!part.normallyWarm) return false;
  const both = [part, other];
  if (!both.every(isMeasured)) return false;
  const shares = both.map(shareOfLimit) as [number, number];
  const evidence = part.triedEvidence! + other.triedEvidence!;
  if (evidence < WARM_EVIDENCE) return false;
  const least = Math.min(...shares);
  if (least >= STEPPED_WARM_SHARE && both.every((one) => stepSigmas(one) >= WARM_STEP)) return true;
  return least >= LEAST_WARM_SHARE && Math.sqrt(shares[0] * shares[1]) >= WARM_SHARE;
}

/** Say whether a part that neither attempt lists heats in both: each falls a little short of what a part anywhere must
 *  bring, but it is the same part twice, by its watts and by its face, and both grew alike. */
export function repeatsHeat(part: PartFindings, other: PartFindings): boolean {
  const both = [part, other];
  if (!both.every(isMeasured)) return false;
  const enough = (one: PartFindings) =>
    bringsWatts(one, REPEATED_SHARE) &&
    bringsEvidence(one, REPEATED_EVIDENCE) &&
    stepSigmas(one) >= REPEATED_STEP;
  if (!both.every(enough)) return false;
  const watts = Math.log(other.triedW! / part.triedW!);
  const step = Math.log(other.contrastK! / part.contrastK!);
  return Math.abs(watts - step) <= REPEATED_LOG;
}

/** Say whether the fit speaks for heat at a place that is warmer by itself in one attempt, with watts and more than the
 *  evidence that uneven copper leaves. @param part there, @param other not. */
export function heatsByFit(part: PartFindings, other: PartFindings): boolean {
  if (!gaveMore(part, other) || !bringsEvidence(part, NO_EVIDENCE)) return false;
  return bringsWatts(part, SURE_SHARE) || bringsEvidence(part, STEPPED_EVIDENCE);
}

/** Whether a dull face in view that mirrors nothing was asked for its heat: only of such a one the fit's watts and the
 *  step are told. */
function isMeasured(part: PartFindings): boolean {
  return part.seen && !part.shiny && part.mirrored !== true && isTried(part);
}

/** Whether the fit gave a face that both attempts see watts in one of them, and fewer in the other. */
function gaveMore(part: PartFindings, other: PartFindings): boolean {
  if (!part.seen || !other.seen || part.shiny || part.mirrored) return false;
  if (!isTried(part) || !isTried(other) || !(part.triedW! > 0)) return false;
  return other.triedW! <= NO_SHARE * part.triedW!;
}

/** By how many sigma heat that neither attempt lists came or went: by the step of its face, or by the evidence that the
 *  fit brings for it in one of them, whichever tells more.
 *  @param part there, @param other not, by `cameOrWent`.
 */
export function changeSigmas(part: PartFindings, other: PartFindings): number {
  const cold = Math.exp(-COLD_FALL * Math.sqrt(part.triedEvidence ?? 0));
  return Math.max(risenStep(part, other) ?? 0, zForTail(cold));
}

/** Say whether the fit leaves a part for which no heat was found enough of the heat that the other attempt shows.
 *  @param factor how many times as much power it would have here.
 */
export function leavesHeat(part: PartFindings, shown: PartFindings | null, factor: number): boolean {
  if (!isTried(part) || shown === null || !isTried(shown) || lacksStep(part, shown)) return false;
  // Of listed heat that is weak itself cold parts bring as large a share of the evidence.
  const cold = shown.powerW === null ? COLD_EVIDENCE : NO_EVIDENCE;
  const evidence = Math.max(cold, LEFT_SHARE ** 2 * factor ** 2 * shown.triedEvidence!);
  if (part.triedEvidence! < evidence || part.triedW! < LEFT_SHARE * factor * shown.triedW!) return false;
  return isWarmEnough(part, shown);
}

/** Whether a place is as warm as the watts that the fit leaves to it would make it by themselves. */
function isWarmEnough(part: PartFindings, shown: PartFindings): boolean {
  if (part.riseK === null || shown.riseK === null || !(shown.triedW! > 0)) return true;
  const ownK = (part.triedW! / shown.triedW!) * shown.riseK;
  return part.riseK + UPPER_SIGMAS * (part.riseSigmaK ?? 0) >= ownK;
}

/** The most watts that a part for which no heat was found may take, by the fit; null where it was not asked. */
export function mostTriedW(part: PartFindings): number | null {
  const { triedW, triedSigmaW, limitW } = part;
  if (typeof triedW !== "number") return null;
  const sigmaW = Math.max(triedSigmaW ?? 0, COLD_SHARE * (limitW ?? 0));
  return triedW + UPPER_SIGMAS * sigmaW;
}

/** Whether the fit gives a part so large a share of what would have been found by itself. */
export function bringsWatts(part: PartFindings, share: number): boolean {
  return part.limitW !== null && shareOfLimit(part) >= share;
}

function shareOfLimit({ triedW, limitW }: PartFindings): number {
  return limitW === null || !(limitW > 0) ? 0 : (triedW ?? 0) / limitW;
}

function bringsEvidence({ triedW, triedEvidence }: PartFindings, least: number): boolean {
  return (triedW ?? 0) > 0 && (triedEvidence ?? 0) >= least;
}
