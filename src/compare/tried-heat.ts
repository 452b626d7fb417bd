// compare: what the fit gives a part beside all else that it found → what an attempt that does not list it says of its heat.
import type { PartFindings } from "../findings/parts-schema.js";
import { unevenK } from "./uneven.js";

/** A part that the other attempt lists is taken to heat here as well from this evidence on. Of 3918 dull
 *  faces in view that did not heat, in 96 simulated jobs, 71 brought as much; of 15 that heated and were not listed 11 did. */
const KNOWN_EVIDENCE = 12;
/** Heat grows with the root of its evidence: below this share of what it made in the other attempt, by that or by its watts, it is
 *  as good as gone. */
const LEAST_SHARE = 0.15;
/** A step of a face is clear from so many sigma of noise and unevenness on; a twentieth of it is none. */
const CLEAR_STEP = 4;
const LEAST_STEP = 0.05;
/** Heat that neither attempt lists came or went where one of them brings this much evidence of it, with this share of the watts that
 *  would have been found by themselves, and the other next to none: what uneven copper makes is the same in both, as long as
 *  no other heat changed. Of those 3918 faces none was told so. */
const SURE_EVIDENCE = 20;
const SURE_SHARE = 0.4;
const NO_EVIDENCE = 6;
/** A fifth of the watts, and of the root of the evidence, is too much to be called gone. */
const LEFT_SHARE = 0.2;
/** What the fit gives parts that do not heat: this share of the watts that would just have been found (84 % of them). */
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
  const there = LEAST_SHARE ** 2 * (named?.triedEvidence ?? 0);
  if (!part.seen || lacksStep(part, named)) return false;
  if ((part.triedW ?? 0) < LEAST_SHARE * (named?.triedW ?? 0)) return false;
  return bringsEvidence(part, Math.max(KNOWN_EVIDENCE, there));
}

/** Where the other attempt shows a clear step of the face and this one none, it is not the part that heats here, whatever else the
 *  fit would put there.
 */
function lacksStep(part: PartFindings, named: PartFindings | null): boolean {
  if (part.shiny || part.contrastK === null || (named?.contrastK ?? null) === null) return false;
  const clearK = CLEAR_STEP * Math.hypot(named!.contrastSigmaK ?? 0, unevenK(named!));
  return named!.contrastK! > clearK && part.contrastK < LEAST_STEP * named!.contrastK!;
}

/** Say whether heat that neither attempt lists is there in one of them and not in the other. @param part there, @param other not. */
export function cameOrWent(part: PartFindings, other: PartFindings): boolean {
  if (!part.seen || !other.seen || part.shiny || part.mirrored || !isTried(other)) return false;
  if (!bringsEvidence(part, SURE_EVIDENCE) || (other.triedEvidence ?? 0) > NO_EVIDENCE) return false;
  return part.limitW !== null && part.triedW! >= SURE_SHARE * part.limitW;
}

/** Say whether the fit leaves a part for which no heat was found enough of the heat that the other attempt shows.
 *  @param factor how many times as much power it would have here.
 */
export function leavesHeat(part: PartFindings, shown: PartFindings | null, factor: number): boolean {
  if (!isTried(part) || shown === null || !isTried(shown) || lacksStep(part, shown)) return false;
  const evidence = LEFT_SHARE ** 2 * factor ** 2 * shown.triedEvidence!;
  return part.triedEvidence! >= evidence && part.triedW! >= LEFT_SHARE * factor * shown.triedW!;
}

/** The most watts that a part for which no heat was found may take, by the fit; null where it was not asked. */
export function mostTriedW(part: PartFindings): number | null {
  const { triedW, triedSigmaW, limitW } = part;
  if (typeof triedW !== "number") return null;
  const sigmaW = Math.max(triedSigmaW ?? 0, COLD_SHARE * (limitW ?? 0));
  return triedW + UPPER_SIGMAS * sigmaW;
}

function bringsEvidence({ triedW, triedEvidence }: PartFindings, least: number): boolean {
  return (triedW ?? 0) > 0 && (triedEvidence ?? 0) >= least;
}
