// compare: findings of one frame without a board → hotspots matched in pixels, and no more.

import { formatSignificant } from "../core/format-quantity.js";
import type { Findings, Hotspot } from "../findings/findings-schema.js";
import type { ComparedHotspot, Comparison } from "./comparison-schema.js";
import { matchHotspots } from "./match-hotspots.js";

/** A hotspot that stood above the other attempt's threshold by this factor would have been seen there; powers are not
 *  compared. */
const WELL_ABOVE = 2;

/** Match the hotspots of two attempts as if the camera had not moved. Which part is which nobody knows, so `parts` is
 *  empty; hotter and cooler are not told.
 */
export function comparePixels(
  before: Findings,
  after: Findings,
  head: Pick<
    Comparison,
    "kind" | "version" | "tool" | "board" | "before" | "after" | "options" | "actions" | "notes"
  >,
): Comparison {
  const hotspots = matchHotspots(before, after).map((match): ComparedHotspot => {
    const { before: a, after: b } = match;
    const change =
      a !== null && b !== null
        ? "persisted"
        : a !== null
          ? seenBy(a, after)
            ? "gone"
            : "unsure"
          : seenBy(b!, before)
            ? "new"
            : "unsure";
    return {
      before: a?.rank ?? null,
      after: b?.rank ?? null,
      change,
      distanceMm: null,
      sigmaMm: null,
      distancePx: match.distance,
      ref: null,
    };
  });
  return {
    ...head,
    division: { by: "none", factor: 1, logSigma: 0 },
    parts: [],
    hotspots,
    verdict: verdictOf(hotspots, after),
    lookAt: [],
  };
}

function seenBy({ peakRiseK }: Hotspot, { threshold }: Findings): boolean {
  return peakRiseK > WELL_ABOVE * threshold.riseK;
}

function verdictOf(hotspots: readonly ComparedHotspot[], after: Findings): string {
  const count = (change: string) => hotspots.filter((hotspot) => hotspot.change === change).length;
  const words = (["persisted", "gone", "new", "unsure"] as const)
    .filter((change) => count(change) > 0)
    .map((change) => `${count(change)} ${change === "persisted" ? "still there" : change}`);
  if (words.length === 0) {
    return `Nothing warms in either attempt by more than ${formatSignificant(after.threshold.riseK, 2)} K above its surroundings.`;
  }
  return `Of the hotspots, ${words.join(", ")}; give find a board map and a view to name the parts.`;
}
