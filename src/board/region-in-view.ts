// board: a place on a side of the board → the region that is seen there.
import type { BoardPoint } from "../core/units.js";
import type { BoardMap, Region } from "./board-schema.js";
import { nearestRegions } from "./nearest-regions.js";

/** Find the region that covers a place, as it is seen from its side: a shield covers what lies under it, else the
 *  smaller part is on top.
 *  @returns null beside all regions.
 */
export function regionInView(
  board: Pick<BoardMap, "regions">,
  point: BoardPoint,
  side: Region["side"],
): Region | null {
  const here = nearestRegions(board, point, side, board.regions.length).filter((n) => n.distanceMm === 0);
  return (here.find(({ region }) => region.kind === "shield") ?? here[0])?.region ?? null;
}
