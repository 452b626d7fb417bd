// compare: heat of one part in one attempt or both → what can be tested of it, and what makes it doubtful.
import type { Hotspot } from "../findings/findings-schema.js";
import type { PartFindings } from "../findings/parts-schema.js";
import type { BoardFindings } from "./check-comparable.js";
import type { Division } from "./divide-power.js";
import { absenceSigmas, mayStillHeat } from "./judge-absence.js";
import { lostEvidenceSigmas } from "./lost-evidence.js";
import { lostWarmthSigmas } from "./lost-warmth.js";
import { mayMirror, type PartHeat } from "./name-part-heat.js";
import type { LogRatio } from "./strength-ratio.js";
import { changeSigmas, leavesHeat } from "./tried-heat.js";
import { LEAST_GAIN, risenStep, unevenK } from "./uneven.js";

/** Why heat that one attempt shows alone may be none of the part's own: the room mirrored in it, or no step of its own
 *  beside stronger heat, where a slip of the plate's model looks the same. And why the other attempt may show it too: a
 *  step is left on the part's face there, or watts by the fit, which are too small to be told as heat. */
type Doubt = "mirrored" | "no step" | "a step left" | "watts left";

/** A step of a face beside stronger heat is its own from this many sigma of unevenness on. */
const OWN_STEP = 3;

/** What can be tested of one part's heat. */
export type HeatTest =
  | { readonly kind: "both"; readonly ratio: LogRatio | null }
  /** Only one attempt shows it: sigmas by which the other one would have; null where that one does not see the part. */
  | { readonly kind: "one"; readonly sigmas: number | null; readonly doubt: Doubt | null };

/** Say what can be tested of a part's heat: by how much it differs where both attempts show it, else by how much the
 *  attempt that does not show it would have.
 *  @param towardsAfter, towardsBefore how many times as much power heat of the earlier attempt would have had in the
 *  later one, and heat of the later attempt, taken from the earlier one, in the later one.
 *  @param stateLog scatter added to watts where the plate was in another state.
 *  @param attempts the earlier and the later one, with all that they found.
 *  @param ratio by how much it differs where both show it; null where nothing measures that.
 */
export function testHeat(
  heat: PartHeat,
  { towardsAfter, towardsBefore }: Pick<Division, "towardsAfter" | "towardsBefore">,
  stateLog: number,
  attempts: readonly [BoardFindings, BoardFindings],
  ratio: LogRatio | null,
): HeatTest {
  const { before, after, shown: shows } = heat;
  if (shows[0] && shows[1]) {
    // What neither attempt lists neither of them measures.
    const known = before !== null && after !== null && !heat.byFit;
    return { kind: "both", ratio: known ? ratio : null };
  }
  const [shown, other] = shows[0] ? [before, after] : [after, before];
  const [there, here] = shows[0] ? attempts : [attempts[1], attempts[0]];
  const factor = shows[0] ? towardsAfter : 1 / towardsBefore;
  const doubt = ownDoubt(heat, shown, other, factor, there.hotspots) ?? whatIsLeft(other, shown, factor);
  const tested = shown !== null && other !== null && heat.bothSeen && doubt === null;
  if (!tested) return { kind: "one", doubt, sigmas: null };
  const absent = absenceSigmas(shown, other, factor, stateLog);
  const changed = heat.byFit ? Math.max(heat.warmthSigmas, changeSigmas(shown, other)) : 0;
  const around = lostWarmthSigmas(shown, there.parts, here.parts, factor) ?? 0;
  return { kind: "one", doubt, sigmas: absent === null ? null : Math.max(absent, changed, around) };
}

/** Why the attempt that does not show a part's heat may have it all the same. */
function whatIsLeft(other: PartFindings | null, shown: PartFindings | null, factor: number): Doubt | null {
  if (other === null || !mayStillHeat(other, shown, factor)) return null;
  return leavesHeat(other, shown, factor) ? "watts left" : "a step left";
}

/** Why heat that one attempt alone shows may be none of the part's own. */
function ownDoubt(
  { byFit, match }: PartHeat,
  shown: PartFindings | null,
  other: PartFindings | null,
  factor: number,
  beside: readonly Hotspot[],
): Doubt | null {
  if (byFit) return null;
  const hotspot = match.before ?? match.after;
  return hotspot === null ? faceDoubt(shown, other) : hotspotDoubt(hotspot, shown, other, factor, beside);
}

/** Of a face alone it is only sure that it heats if its step rose more than the warmth around it. */
function faceDoubt(part: PartFindings | null, other: PartFindings | null): Doubt | null {
  const sigmas = part === null || other === null ? null : risenStep(part, other);
  return sigmas !== null && sigmas > OWN_STEP ? null : "no step";
}

function hotspotDoubt(
  hotspot: Hotspot,
  part: PartFindings | null,
  other: PartFindings | null,
  factor: number,
  beside: readonly Hotspot[],
): Doubt | null {
  const { areaPx, powerW } = hotspot;
  if (mayMirror(hotspot)) return "mirrored";
  if (!beside.some((one) => one !== hotspot && (one.powerW ?? 0) > (powerW ?? 0))) return null;
  if (part === null || part.shiny || part.contrastK === null) return areaPx > 0 ? null : "no step";
  const step = part.contrastK / Math.hypot(part.contrastSigmaK ?? 0, unevenK(part));
  if (other === null) return step > OWN_STEP ? null : "no step";
  // Of a face that shows no step of its own the evidence that the other attempt lacks counts as much.
  const small = (part.contrastGain ?? 0) < LEAST_GAIN;
  const lost = small ? (lostEvidenceSigmas(part, other, factor) ?? 0) : 0;
  const sigmas = Math.max(step, risenStep(part, other) ?? 0, lost);
  return sigmas > OWN_STEP ? null : "no step";
}
