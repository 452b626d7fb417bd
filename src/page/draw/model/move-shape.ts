// page: a polygon → the polygon moved, turned, or stretched.
import { boundsOf, type Point, type Polygon } from "../../../board/polygon.js";
import { cosSin } from "../../../board/rectangle-corners.js";
import { cornersOf, readRectangle, tidy } from "./rectangle.js";

/** A rectangle along the axes thinner than this could not be picked up again. */
export const LEAST_SIZE_MM = 0.05;

/** Move a polygon. */
export function movePolygon(polygon: Polygon, [dx, dy]: Point): Polygon {
  return polygon.map(([x, y]): Point => [tidy(x + dx), tidy(y + dy)]);
}

/** Turn a polygon about a point, from +x towards +y. */
export function turnPolygon(polygon: Polygon, [cx, cy]: Point, turnDeg: number): Polygon {
  const [cos, sin] = cosSin(turnDeg);
  return polygon.map(
    ([x, y]): Point => [
      tidy(cx + (x - cx) * cos - (y - cy) * sin),
      tidy(cy + (x - cx) * sin + (y - cy) * cos),
    ],
  );
}

/** Make a polygon wider and higher, its upper left corner staying where it is. A turned rectangle grows along its own
 *  edges about its centre; sizes stop at the smallest that can be picked up. */
export function growPolygon(polygon: Polygon, [dw, dh]: Point): Polygon {
  const rectangle = readRectangle(polygon);
  if (rectangle !== null && rectangle.turnDeg !== 0) {
    const widthMm = Math.max(LEAST_SIZE_MM, rectangle.widthMm + dw);
    const heightMm = Math.max(LEAST_SIZE_MM, rectangle.heightMm + dh);
    return cornersOf({ ...rectangle, widthMm, heightMm });
  }
  const { minX, minY, maxX, maxY } = boundsOf(polygon);
  const [width, height] = [maxX - minX, maxY - minY];
  return fitPolygon(polygon, [minX, minY], [width + dw, height + dh]);
}

/** Stretch a polygon so that its bounds have a size, its upper left corner being put at a place. */
function fitPolygon(polygon: Polygon, [left, top]: Point, [width, height]: Point): Polygon {
  const { minX, minY, maxX, maxY } = boundsOf(polygon);
  const stretch = (size: number, old: number): number =>
    old === 0 ? 1 : Math.max(LEAST_SIZE_MM, size) / old;
  const [sx, sy] = [stretch(width, maxX - minX), stretch(height, maxY - minY)];
  return polygon.map(([x, y]): Point => [tidy(left + (x - minX) * sx), tidy(top + (y - minY) * sy)]);
}
