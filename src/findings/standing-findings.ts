// findings: all that was found → what stands, without parts that may heat beside it and may not.
import type { Findings } from "./findings-schema.js";
import type { HotspotFlag } from "./hotspot-flags.js";

const MAY_NOT_HEAT: HotspotFlag = "besideHeat";

/** Leave out hotspots that the heat beside them may make, and the suspects that stand for them: attempts and jobs are
 *  judged by what stands.
 *  @returns the findings themselves where all of them do.
 */
export function standingFindings<F extends Pick<Findings, "hotspots" | "suspects">>(findings: F): F {
  const hotspots = findings.hotspots.filter(({ flags }) => !flags.includes(MAY_NOT_HEAT));
  if (hotspots.length === findings.hotspots.length) return findings;
  const ranks = new Set(hotspots.map(({ rank }) => rank));
  const suspects = findings.suspects.filter(({ hotspot }) => hotspot === null || ranks.has(hotspot));
  return { ...findings, hotspots, suspects };
}
