// compare: a part's rise and contrast → the step that uneven warmth around it may make on its face.
import type { PartFindings } from "../findings/parts-schema.js";

/** Uneven copper, finishes and the slope of a neighbour's heat make contrasts of this share of the rise (simulated boards). */
const UNEVEN_SHARE = 0.025;

/** Standard deviation of the step that warmth which is not the part's own makes on its face, K as `contrastK`. */
export function unevenK({ riseK, contrastGain }: PartFindings): number {
  if (riseK === null || contrastGain === null) return 0;
  return (UNEVEN_SHARE * Math.max(0, riseK)) / contrastGain;
}
