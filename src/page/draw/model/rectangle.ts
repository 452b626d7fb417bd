// page: the numbers of a rectangle ↔ its corners, turned ones too.
import type { Point, Polygon } from "../../../board/polygon.js";
import { rectangleCorners } from "../../../board/rectangle-corners.js";

/** A rectangle by its numbers. */
export interface Rectangle {
  readonly centre: Point;
  readonly widthMm: number;
  readonly heightMm: number;
  /** From +x towards +y: clockwise as seen from the top. */
  readonly turnDeg: number;
}

/** How far corners may be off for a polygon still to be called a rectangle: drawings are rounded to 0.01 mm. */
const TOLERANCE_MM = 0.005;

/** Compute the corners of a rectangle, the upper left first where it is not turned, then clockwise as seen from the
 *  top. */
export function cornersOf({ centre, widthMm, heightMm, turnDeg }: Rectangle): Polygon {
  return rectangleCorners(centre, widthMm, heightMm, turnDeg).map(([x, y]): Point => [tidy(x), tidy(y)]);
}

/** Make the rectangle along the axes between two opposite corners. */
export function rectangleBetween(a: Point, b: Point): Rectangle {
  return {
    centre: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2],
    widthMm: Math.abs(b[0] - a[0]),
    heightMm: Math.abs(b[1] - a[1]),
    turnDeg: 0,
  };
}

/** Make the rectangle of which one edge runs from `a` to `b` and the opposite one through `c`. */
export function rectangleOnEdge(a: Point, b: Point, c: Point): Rectangle {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const widthMm = Math.hypot(dx, dy);
  const [nx, ny] = widthMm === 0 ? [0, 1] : [-dy / widthMm, dx / widthMm];
  const depthMm = (c[0] - a[0]) * nx + (c[1] - a[1]) * ny;
  return {
    centre: [(a[0] + b[0] + depthMm * nx) / 2, (a[1] + b[1] + depthMm * ny) / 2],
    widthMm,
    heightMm: Math.abs(depthMm),
    turnDeg: (Math.atan2(dy, dx) * 180) / Math.PI,
  };
}

/** Read a polygon as a rectangle; null if it is none.
 *  The turn is between −45° and 45°, so that a part along the axes keeps its width along x. */
export function readRectangle(polygon: Polygon): Rectangle | null {
  if (polygon.length !== 4) return null;
  const [a, b, c, d] = polygon as [Point, Point, Point, Point];
  const centre: Point = [(a[0] + c[0]) / 2, (a[1] + c[1]) / 2];
  // Diagonals of a rectangle halve each other and are of one length.
  if (Math.hypot((b[0] + d[0]) / 2 - centre[0], (b[1] + d[1]) / 2 - centre[1]) > TOLERANCE_MM) return null;
  const [ac, bd] = [Math.hypot(c[0] - a[0], c[1] - a[1]), Math.hypot(d[0] - b[0], d[1] - b[1])];
  if (Math.abs(ac - bd) > 2 * TOLERANCE_MM) return null;
  const first = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const second = Math.hypot(c[0] - b[0], c[1] - b[1]);
  if (Math.min(first, second) <= TOLERANCE_MM) return null;
  const angleDeg = (Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI;
  const quarters = Math.round(angleDeg / 90);
  const turned = quarters % 2 !== 0;
  const turnDeg = tidy(angleDeg - quarters * 90);
  return {
    centre: [tidy(centre[0]), tidy(centre[1])],
    widthMm: tidy(turned ? second : first),
    heightMm: tidy(turned ? first : second),
    turnDeg: Object.is(turnDeg, -0) ? 0 : turnDeg,
  };
}

/** Round to a millionth of a millimetre: what lies below is left over from arithmetic. */
export function tidy(value: number): number {
  return Math.round(value * 1e6) / 1e6;
}
