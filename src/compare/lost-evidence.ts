// compare: what both fits give one part → by how many sigma the evidence of its heat is missing in one of them.
import type { PartFindings } from "../findings/parts-schema.js";
import { isTried } from "./tried-heat.js";

/** Scatter of the logarithm of the root of the evidence that two attempts bring for one part that heats as before, at
 *  equal watts that would just have been found: of 586 such pairs of simulated jobs, with roots from 2 to 60, it falls
 *  short by more than 0.25 in 16 %, 0.57 in 5 % and 1.1 in 1 %. A normal tail of this width holds the last of these. */
const EVIDENCE_SCATTER = 0.5;
/** Cold parts bring roots of evidence up to this: three in four bring less. */
const COLD_ROOT = 1.5;
/** Watts of which the other attempt gives as large a share did not go, by whatever evidence. */
const KEPT_SHARE = 0.5;

/** Say by how many sigma the evidence of a part's heat falls short of what the same heat would bring. The root of the
 *  evidence goes with the watts, and with how few watts the picture would have shown.
 *  @param shown the part where it heats, @param missing where it does not.
 *  @param factor how many times as much power it would have there.
 *  @returns null where one of the attempts was not asked.
 */
export function lostEvidenceSigmas(
  shown: PartFindings,
  missing: PartFindings,
  factor: number,
): number | null {
  if (!isTried(shown) || !isTried(missing) || shown.limitW === null || missing.limitW === null) return null;
  if (missing.triedW! >= KEPT_SHARE * factor * shown.triedW!) return 0;
  // A view that shows more than the other one is not counted on.
  const clearer = Math.min(1, shown.limitW / missing.limitW);
  const expected = factor * clearer * Math.sqrt(Math.max(0, shown.triedEvidence!));
  if (!(expected > COLD_ROOT)) return 0;
  const left = Math.max(COLD_ROOT, missing.triedW! > 0 ? Math.sqrt(missing.triedEvidence!) : 0);
  // Noise makes a root uncertain by one.
  return Math.max(0, Math.log(expected / left) / Math.hypot(EVIDENCE_SCATTER, 1 / expected));
}
