// findings: what was judged to be no heat, and the hotspots → the change above all of them that lies on no part of the
// map.
import { distanceToPolygon } from "../board/polygon-distance.js";
import { framePoint } from "../core/units.js";
import type { UnmappedChange } from "../suspects/next-step.js";
import type { Artefact, Hotspot } from "./findings-schema.js";
import { REACH_PX } from "./match-patches.js";
import type { BoardView } from "./seen-view.js";

/** Find the largest change that was taken for a mirrored one although it exceeds all heat that was found, and lies
 *  where the map names nothing on the side that is seen: a part that was not drawn has no face that could be weighed
 *  against the room.
 *  @param leastK smaller changes are left alone.
 *  @returns null where the largest change is heat, or lies on a part of the map.
 */
export function unmappedChange(
  artefacts: readonly Artefact[],
  hotspots: readonly Hotspot[],
  views: readonly BoardView[],
  leastK: number,
): UnmappedChange | null {
  let largest: UnmappedChange | null = null;
  let most = Math.max(leastK, ...hotspots.map(({ peakRiseK }) => peakRiseK));
  for (const { kind, px, riseK, view: name = "primary" } of artefacts) {
    const seen = views.find((view) => view.name === name);
    if (kind !== "reflection" || riseK === null || riseK <= most || seen === undefined) continue;
    most = riseK;
    const { board, view } = seen.placed;
    const at = framePoint(px[0], px[1]);
    const mm = view.toBoard(at);
    // A change is a part's own as far outside its edge as a peak may lie.
    const reach = REACH_PX * view.mmPerPxAt(at);
    const under = board.regions.filter(({ polygon }) => distanceToPolygon(mm, polygon) <= reach);
    const behind = under.find(({ side }) => side !== view.side)?.ref ?? null;
    const named = under.some(({ side }) => side === view.side);
    largest = named ? null : { at: [mm[0], mm[1]], side: view.side, riseK, behind };
  }
  return largest;
}
