// place: outline and a matrix from board to frame → fiducials that say the same.
import type { View } from "../board/board-schema.js";
import { applyHomography, type Matrix3 } from "../board/plane-transform.js";
import { boundsOf, type Point, type Polygon } from "../board/polygon.js";
import { boxCorners } from "./board-arm.js";

/** Fiducials farther outside the frame than this share of its size are drawn in towards the board's middle: `placeView`
 *  refuses half a frame.
 */
const MOST_OUTSIDE = 0.4;
/** Steps by which a point is drawn in. */
const DRAW_IN = 0.1;

/** Write a transform as fiducials: the outermost corners of the outline, or points between them and the middle where
 *  they lie far outside the frame. Four points fix the homography exactly.
 */
export function transferFiducials(
  toFrame: Matrix3,
  outline: Polygon,
  frame: { readonly width: number; readonly height: number },
): View["fiducials"] {
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  const middle: Point = [(minX + maxX) / 2, (minY + maxY) / 2];
  const box = boxCorners(outline);
  const corners = box.map((corner) => nearest(outline, corner));
  // Cut corners can share their nearest one, or leave three on a line: the box itself never does.
  const points = isWellSpread(corners, (maxX - minX) * (maxY - minY)) ? corners : box;
  return points.map((point) => {
    const board = drawnIn(point, middle, (place) => isNear(applyHomography(toFrame, place), frame));
    const pixel = applyHomography(toFrame, board);
    return { board: [round(board[0]), round(board[1])], pixel: [round(pixel[0]), round(pixel[1])] };
  });
}

function nearest(outline: Polygon, to: Point): Point {
  return outline.reduce((best, corner) =>
    Math.hypot(corner[0] - to[0], corner[1] - to[1]) < Math.hypot(best[0] - to[0], best[1] - to[1])
      ? corner
      : best,
  );
}

/** No three of the four points nearly on a line: each triangle covers an eighth of the box at least. */
function isWellSpread(points: readonly Point[], area: number): boolean {
  return points.every((_, skip) => {
    const [a, b, c] = points.filter((_, k) => k !== skip) as [Point, Point, Point];
    const twice = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    return Math.abs(twice) / 2 > area / 8;
  });
}

function drawnIn(point: Point, middle: Point, isFine: (point: Point) => boolean): Point {
  for (let share = 0; share < 1; share += DRAW_IN) {
    const place: Point = [
      point[0] + share * (middle[0] - point[0]),
      point[1] + share * (middle[1] - point[1]),
    ];
    if (isFine(place)) return place;
  }
  return point;
}

function isNear(
  [x, y]: Point,
  { width, height }: { readonly width: number; readonly height: number },
): boolean {
  return (
    x >= -MOST_OUTSIDE * width &&
    x <= (1 + MOST_OUTSIDE) * width &&
    y >= -MOST_OUTSIDE * height &&
    y <= (1 + MOST_OUTSIDE) * height
  );
}

/** A thousandth of a pixel or millimetre is far below what is known. */
function round(value: number): number {
  return Math.round(value * 1000) / 1000;
}
