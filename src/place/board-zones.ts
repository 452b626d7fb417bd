// place: board map and view → which pixels lie at the outline, inside the board, or are no guide.
import type { BoardMap } from "../board/board-schema.js";
import { isShiny } from "../board/emissivity.js";
import type { PlacedView } from "../board/place-view.js";
import type { Polygon } from "../board/polygon.js";
import { coverageMask } from "../board/rasterise-polygon.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";

/** Zones of the frame. `off`: beside the board, or inside a shiny face: it mirrors the room, which does not move with
 *  the board. The rim of a shiny face stays, for that does.
 */
export const ZONE = Object.freeze({ off: 0, outline: 1, inner: 2 });

/** The view may be off by a pixel or two, and the optics blur the edge by as much, px. */
const EDGE_SIGMA_PX = 2;
/** Inwards the outline's zone is wider: as far as the outline reaches in a band-passed picture it must not pass for
 *  something that lies on the board, px.
 */
const REACH_SIGMA_PX = 4;
/** Smoothed cover at which the outline's zone ends on both sides: about 1.9 sigma from a straight edge. */
const EDGE_COVER = 0.03;
/** Smoothed cover above which a shiny face is left out: about 1.3 sigma inside its rim. */
const FACE_COVER = 0.9;

/** Sort the pixels of a frame by where the board lies.
 *  @param widen how much wider details are compared than the frame's own pixels would allow.
 */
export function boardZones(
  view: Pick<PlacedView, "matrix" | "side">,
  board: BoardMap,
  width: number,
  height: number,
  widen = 1,
): Uint8Array {
  const near = softCover(view, board.outline, width, height, EDGE_SIGMA_PX);
  const deep = softCover(view, board.outline, width, height, widen * REACH_SIGMA_PX);
  const zones = Uint8Array.from(near, (share, k) =>
    share < EDGE_COVER ? ZONE.off : deep[k]! > 1 - EDGE_COVER ? ZONE.inner : ZONE.outline,
  );
  for (const region of board.regions) {
    if (region.side !== view.side || !isShiny(region)) continue;
    const cover = softCover(view, region.polygon, width, height, EDGE_SIGMA_PX);
    for (let k = 0; k < zones.length; k++) if (cover[k]! > FACE_COVER) zones[k] = ZONE.off;
  }
  return zones;
}

function softCover(
  view: Pick<PlacedView, "matrix">,
  polygon: Polygon,
  width: number,
  height: number,
  sigmaPx: number,
): Float32Array {
  return gaussianFilter(coverageMask(view, polygon, width, height).data, width, height, sigmaPx);
}
