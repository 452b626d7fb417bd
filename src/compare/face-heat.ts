// compare: a part that no hotspot speaks for → whether its face alone shows heat of its own.
import type { PartFindings } from "../findings/parts-schema.js";
import { bringsWatts, isTried, showsKnownHeat } from "./tried-heat.js";
import { unevenK } from "./uneven.js";

/** A step of a face is its own from so many sigma of noise and unevenness on: of 1963 cold faces in 106 simulated
 *  attempts 25 pass, nearly all of them small ones beside strong heat … */
const OWN_STEP = 4;
/** … so where no attempt names the part, and every face is asked, the picture must show at least this share of the step
 *  too: then one passes. */
const LEAST_GAIN = 0.25;
/** … and the fit must give it this share of the watts that would just have been found: of 182 simulated jobs seven cold
 *  faces beside strong heat passed, with 0.1 to 0.4, and eight that heat, with 0.4 to 2. */
const LEAST_SHARE = 0.5;

/** Say whether a face is warmer than the board around it by what only its own heat makes. Beside stronger heat the fit
 *  can leave such a part out; its face shows it all the same.
 *  @param named the other attempt has a hotspot for this part.
 */
export function faceShowsHeat(part: PartFindings, named: boolean): boolean {
  const { seen, shiny, contrastK, contrastSigmaK, contrastGain, limitK } = part;
  if (!seen || shiny || contrastK === null || contrastSigmaK === null || limitK === null) return false;
  if (!(contrastK > limitK)) return false;
  // The fit weighed what this face shows against the heat around it, and took it for the room.
  if (part.mirrored && !named) return false;
  // Uneven copper makes steps too; the fit, which knows the heat around, then gives the part next to nothing.
  if (isTried(part) && !(showsKnownHeat(part, null) && (named || bringsWatts(part, LEAST_SHARE))))
    return false;
  const step = contrastK / Math.hypot(contrastSigmaK, unevenK(part));
  return step > OWN_STEP && (named || (contrastGain ?? 0) >= LEAST_GAIN);
}
