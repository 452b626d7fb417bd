// board: a place on the board → the regions around it, nearest first.
import type { BoardPoint } from "../core/units.js";
import type { BoardMap, Region } from "./board-schema.js";
import { signedArea } from "./polygon.js";
import { distanceToPolygon } from "./polygon-distance.js";

/** A region and how far a place is from it. */
export interface NearRegion {
  readonly region: Region;
  /** Place in `board.regions`. */
  readonly index: number;
  /** From the polygon's edge, mm; 0 inside and on the edge. */
  readonly distanceMm: number;
  readonly areaMm2: number;
}

/** List the regions of a board by their distance from a place. Of regions as near, the smaller comes first (a part
 *  before the shield that covers it), then the one that comes first in the map.
 *  @param side regions of this side only; undefined for both.
 *  @param limit how many at most. */
export function nearestRegions(
  board: Pick<BoardMap, "regions">,
  point: BoardPoint,
  side?: Region["side"],
  limit = 8,
): NearRegion[] {
  const near: NearRegion[] = [];
  board.regions.forEach((region, index) => {
    if (side !== undefined && region.side !== side) return;
    const distanceMm = distanceToPolygon(point, region.polygon);
    near.push({ region, index, distanceMm, areaMm2: Math.abs(signedArea(region.polygon)) });
  });
  near.sort((a, b) => a.distanceMm - b.distanceMm || a.areaMm2 - b.areaMm2 || a.index - b.index);
  return near.slice(0, Math.max(0, limit));
}
