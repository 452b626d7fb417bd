// page: a place on the board → the part that lies there.
import type { BoardMap, Region } from "../../board/board-schema.js";
import { pointInPolygon, signedArea } from "../../board/polygon.js";

/** Find the part of a side at a place, mm; of parts within others the smallest.
 *  @param board,side null where none is known: then there is no part, either. */
export function partAt(
  board: BoardMap | null,
  side: Region["side"] | null,
  point: readonly [number, number],
): Region | null {
  if (board === null || side === null) return null;
  let found: Region | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const region of board.regions) {
    if (region.side !== side || !pointInPolygon(region.polygon, point)) continue;
    const area = Math.abs(signedArea(region.polygon));
    if (area < least) {
      least = area;
      found = region;
    }
  }
  return found;
}
