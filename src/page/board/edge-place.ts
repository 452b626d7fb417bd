// page: a place on the screen and the picture's box → where it is marked, and whither it lies where that is beyond the
// edge.
import type { Point } from "../../board/polygon.js";

/** Where a place is marked. */
interface EdgePlace {
  readonly at: Point;
  /** Direction from the mark to the place, degrees clockwise from the right; null where the mark is at the place
   *  itself. */
  readonly outward: number | null;
}

/** Keep a mark in the box: a place beyond its edge is marked at the nearest one that leaves room for the mark. A place
 *  in the box is marked where it is, though at the very edge the mark then reaches beyond it.
 *  @param inset room between edge and mark of what lies beyond, px.
 */
export function edgePlace(
  [x, y]: Point,
  box: { readonly x: number; readonly y: number; readonly width: number; readonly height: number },
  inset: number,
): EdgePlace {
  const isInside = x >= box.x && x <= box.x + box.width && y >= box.y && y <= box.y + box.height;
  if (isInside) return { at: [x, y], outward: null };
  const held: Point = [hold(x, box.x, box.width, inset), hold(y, box.y, box.height, inset)];
  return { at: held, outward: (Math.atan2(y - held[1], x - held[0]) * 180) / Math.PI };
}

function hold(value: number, low: number, length: number, inset: number): number {
  const room = Math.min(inset, length / 2);
  return Math.min(low + length - room, Math.max(low + room, value));
}
