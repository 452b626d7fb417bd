// compare: heat that one attempt shows and the other does not → whether the other would have shown it.
import type { PartFindings } from "../findings/parts-schema.js";
import { lostEvidenceSigmas } from "./lost-evidence.js";
import { LEAST_SIGNIFICANCE, RISE_SCATTER } from "./lost-warmth.js";
import { isTried, leavesHeat, mostTriedW } from "./tried-heat.js";
import { standsOut, unevenChangeK, unevenK } from "./uneven.js";

/** Scatter of the logarithm of what a part shows from one attempt to the next (simulated jobs): of its contrast, and of
 *  the watts that would just have been found. Of its largest rise it is `RISE_SCATTER`. */
const CONTRAST_SCATTER = 0.2;
const POWER_SCATTER = 0.35;

/** Say by how many sigma heat that one attempt shows exceeds what the other attempt could have missed, on the same
 *  part. Six ways, of which the one that tells most counts: contrast of its face against the least that would have been
 *  found, or what is there; what its face lacks of the contrast that it would have; its largest rise against what is
 *  there; its watts against the fewest that would have been found, and against the most that the fit leaves to it; and
 *  the evidence that the fit brings for it.
 *  @param shown the part where it heats, @param missing where it does not.
 *  @param factor how many times as much power the other attempt had for it.
 *  @param stateLog scatter added to watts where the plate was in another state.
 *  @returns ≥ 0; null where the other attempt does not see the part, or nothing can be held against anything.
 */
export function absenceSigmas(
  shown: PartFindings,
  missing: PartFindings,
  factor: number,
  stateLog: number,
): number | null {
  if (!missing.seen) return null;
  const ways: number[] = [];
  const add = (there: number | null, least: number | null, relative: number, scatter: number): void => {
    if (there === null || least === null || !(there > 0) || !(least > 0)) return;
    ways.push(Math.log((there * factor) / least) / Math.hypot(relative, scatter));
  };
  if (!shown.shiny) {
    if (shown.seen && missing.limitK !== null) {
      const there = Math.max(0, missing.contrastK ?? 0) + unevenK(missing);
      const least = Math.max(missing.limitK, there);
      const relative =
        Math.hypot(shown.contrastSigmaK ?? 0, unevenK(shown)) / Math.max(shown.contrastK ?? 0, 1e-9);
      add(shown.contrastK, least, relative, CONTRAST_SCATTER);
    }
    if (missing.riseK !== null && missing.riseSigmaK !== null && shown.seen) {
      const least = Math.max(missing.riseK, LEAST_SIGNIFICANCE * missing.riseSigmaK);
      add(shown.riseK, least, (shown.riseSigmaK ?? 0) / Math.max(shown.riseK ?? 0, 1e-9), RISE_SCATTER);
    }
  }
  const lacking = lackingSigmas(shown, missing, factor);
  if (lacking !== null) ways.push(lacking);
  const noise = (shown.powerNoiseW ?? 0) / Math.max(shown.powerW ?? 0, 1e-12);
  add(shown.powerW, missing.limitW, noise, Math.hypot(POWER_SCATTER, stateLog));
  const triedNoise = (shown.triedSigmaW ?? 0) / Math.max(shown.triedW ?? 0, 1e-12);
  add(shown.triedW ?? null, mostTriedW(missing), triedNoise, Math.hypot(POWER_SCATTER, stateLog));
  const lost = lostEvidenceSigmas(shown, missing, factor);
  if (lost !== null) ways.push(lost);
  return ways.length === 0 ? null : Math.max(0, ...ways);
}

/** By how many sigma a face falls short of the contrast that the same heat would make on it. Where to look is known
 *  from the other attempt, so that heat too weak to be found anywhere is missed here all the same; and uneven copper
 *  stays in its place.
 *  @returns null where a face can't be held against itself.
 */
function lackingSigmas(shown: PartFindings, missing: PartFindings, factor: number): number | null {
  const [a, b] = [measuredContrast(shown), measuredContrast(missing)];
  if (a === null || b === null || !(a.value > 0)) return null;
  const sizes = Math.log(b.gain / a.gain);
  // As in strengthRatio: between a face's step and a hill that is alike at all sizes.
  const expected = a.value * factor * Math.exp(-sizes / 2);
  const scatter = expected * Math.hypot(CONTRAST_SCATTER, sizes / Math.sqrt(12));
  const noise = Math.hypot((expected / a.value) * a.sigma, b.sigma);
  const uneven = unevenChangeK(shown, missing, expected / a.value);
  // Beside a hill of stronger heat a cold face shows less than nothing: that makes it no colder than cold.
  return (expected - Math.max(0, b.value)) / Math.hypot(scatter, noise, uneven);
}

function measuredContrast(part: PartFindings): { value: number; sigma: number; gain: number } | null {
  const { seen, shiny, contrastK, contrastSigmaK, contrastGain } = part;
  if (!seen || shiny || contrastK === null || contrastSigmaK === null || contrastGain === null) return null;
  return { value: contrastK, sigma: contrastSigmaK, gain: contrastGain };
}

/** Where the fit was asked for the part and gives it next to nothing, the step must be this share of what its heat
 *  would make: a neighbour that was taken for the source of both looks like that. */
const LEFT_SHARE = 0.35;

/** Say whether the face of a part for which no heat was found may heat all the same: it stands out from the board
 *  around it by more than noise and uneven copper make as a rule, though not by enough to be told as heat. Weaker heat
 *  beside stronger looks like that, so that nobody can call it gone.
 *  @param shown the part in the attempt that shows it. @param factor how many times as much power it would have here.
 */
export function mayStillHeat(part: PartFindings, shown: PartFindings | null, factor: number): boolean {
  if (part.seen && leavesHeat(part, shown, factor)) return true;
  if (!standsOut(part)) return false;
  if (!isTried(part)) return true;
  // Where the fit, which knows what other heat makes of this face, takes no heat from it at all, the step is none of
  // its own.
  return part.triedW! > 0 && part.contrastK! > LEFT_SHARE * factor * (shown?.contrastK ?? 0);
}
