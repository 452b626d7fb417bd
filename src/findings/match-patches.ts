// findings: sources and patches → which patch is whose peak.
import type { BoardMap } from "../board/board-schema.js";
import type { PlacedView } from "../board/place-view.js";
import { distanceToPolygon } from "../board/polygon-distance.js";
import { framePoint } from "../core/units.js";
import type { DetectedPatch } from "../hotspots/detect-patches.js";
import type { FittedSource } from "../sources/source-fit.js";

/** How far outside a part's edge its peak may lie, px: blur, view and the heat of neighbours pull it. */
export const REACH_PX = 2.5;

/** Give each source the strongest patch whose peak lies on its part; each patch goes to one source.
 *  @returns one patch or null per source, in the sources' order.
 */
export function matchPatches(
  sources: readonly Pick<FittedSource, "candidate">[],
  patches: readonly DetectedPatch[],
  board: BoardMap,
  view: PlacedView,
  width: number,
): (DetectedPatch | null)[] {
  const taken = new Set<DetectedPatch>();
  return sources.map(({ candidate }) => {
    const polygon = board.regions[candidate.region]?.polygon;
    let best: DetectedPatch | null = null;
    let bestMm = Number.POSITIVE_INFINITY;
    for (const patch of patches) {
      if (taken.has(patch)) continue;
      const px = framePoint(patch.peak % width, Math.floor(patch.peak / width));
      const mm = view.toBoard(px);
      const away =
        polygon === undefined
          ? Math.hypot(mm[0] - candidate.at[0], mm[1] - candidate.at[1])
          : distanceToPolygon(mm, polygon);
      if (away > REACH_PX * view.mmPerPxAt(px) || away >= bestMm) continue;
      best = patch;
      bestMm = away;
    }
    if (best !== null) taken.add(best);
    return best;
  });
}
