// findings: a hotspot and the views of both sides → what they show of it, for the line on its side.
import { framePoint } from "../core/units.js";
import type { SideEvidence, SideSight } from "../suspects/side-line.js";
import type { Hotspot } from "./findings-schema.js";
import type { BoardView } from "./seen-view.js";
import { viewOf } from "./view-names.js";

/** Gather what both views show of a hotspot; null unless both sides were seen.
 *  @param side of the part that the evidence is for.
 */
export function sideEvidence(
  views: readonly BoardView[],
  hotspot: Hotspot,
  side: "top" | "bottom",
): SideEvidence | null {
  const { sideOdds, otherView = null, areaPx } = hotspot;
  const [primary, other] = views;
  if (!sideOdds || primary === undefined || other === undefined) return null;
  const sight = (view: BoardView): SideSight => {
    const own = view.name === viewOf(hotspot) ? (areaPx > 0 ? hotspot : null) : otherView;
    if (own === null) return { side: view.placed.view.side, peakRiseK: null, widthMm: null };
    const mmPerPx = view.placed.view.mmPerPxAt(framePoint(own.sourcePx[0], own.sourcePx[1]));
    return {
      side: view.placed.view.side,
      peakRiseK: own.peakRiseK,
      widthMm: own.widthPx === null ? null : own.widthPx * mmPerPx,
    };
  };
  return { side, sights: [sight(primary), sight(other)], odds: sideOdds };
}
