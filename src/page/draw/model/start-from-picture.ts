// page: points of a picture and a length that was measured on the board → the first fiducials, and an outline.
import type { Point, Polygon } from "../../../board/polygon.js";
import type { DrawnFiducial, Side } from "./drawing.js";
import { tidy } from "./rectangle.js";

/** Make the outline of a rectangular board and its four fiducials of its corners in a picture, picked in any order.
 *  @param pixels four points of the picture.
 *  @param widthMm its size from left to right as it is seen.
 *  @param heightMm its size from top to bottom as it is seen.
 *  @returns the outline with its upper left corner, seen from the top side, at 0, 0. */
export function startFromCorners(
  pixels: readonly [Point, Point, Point, Point],
  widthMm: number,
  heightMm: number,
  side: Side,
): { outline: Polygon; fiducials: DrawnFiducial[] } {
  const seen = inOrder(pixels);
  const [w, h] = [widthMm, heightMm];
  const outline: Polygon = [
    [0, 0],
    [w, 0],
    [w, h],
    [0, h],
  ];
  // What is at the left of the bottom, as it is seen, is at the right seen from the top.
  const board = side === "top" ? outline : [outline[1]!, outline[0]!, outline[3]!, outline[2]!];
  return { outline, fiducials: seen.map((pixel, i) => ({ board: board[i]!, pixel })) };
}

/** Make two fiducials of two points of a picture that are a known length apart, as if the camera looked straight down.
 *  The board's axes go along the picture's, its origin is the picture's upper left corner (upper right: the bottom
 *  side).
 *  @throws RangeError if the points are one place (a fault of the caller). */
export function startFromLength(
  a: Point,
  b: Point,
  lengthMm: number,
  side: Side,
  pictureWidth: number,
): DrawnFiducial[] {
  const lengthPx = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (!(lengthPx > 0)) throw new RangeError("two points at one place have no length between them");
  const mmPerPx = lengthMm / lengthPx;
  const toBoard = ([x, y]: Point): Point => [
    tidy((side === "top" ? x + 0.5 : pictureWidth - 0.5 - x) * mmPerPx),
    tidy((y + 0.5) * mmPerPx),
  ];
  return [a, b].map((pixel) => ({ board: toBoard(pixel), pixel }));
}

/** Sort corners: the upper left first, then clockwise as seen. */
function inOrder(pixels: readonly [Point, Point, Point, Point]): Point[] {
  const [mx, my] = [0, 1].map((axis) => pixels.reduce((sum, pixel) => sum + pixel[axis as 0 | 1] / 4, 0)) as [
    number,
    number,
  ];
  const around = [...pixels].sort(
    (p, q) => Math.atan2(p[1] - my, p[0] - mx) - Math.atan2(q[1] - my, q[0] - mx),
  );
  const sums = around.map(([x, y]) => x + y);
  const first = sums.indexOf(Math.min(...sums));
  return around.map((_, i) => around[(first + i) % 4]!);
}
