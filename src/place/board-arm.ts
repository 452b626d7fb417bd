// place: a board map and where it lies in a frame → the middle and the length by which motions are told.
import type { BoardMap } from "../board/board-schema.js";
import type { PlacedView } from "../board/place-view.js";
import { applyHomography } from "../board/plane-transform.js";
import { boundsOf, type Point, type Polygon } from "../board/polygon.js";

/** Where the board lies in the earlier frame: its middle and the arm at which parameters are measured, px. */
export interface BoardArm {
  readonly centre: Point;
  readonly armPx: number;
}

/** The board's middle in the frame, and the distance of its farthest corner. */
export function boardArm({ matrix }: Pick<PlacedView, "matrix">, { outline }: BoardMap): BoardArm {
  const corners = outline.map((corner) => applyHomography(matrix, corner));
  const { minX, minY, maxX, maxY } = boundsOf(corners);
  const centre: Point = [(minX + maxX) / 2, (minY + maxY) / 2];
  return { centre, armPx: Math.max(...corners.map(([x, y]) => Math.hypot(x - centre[0], y - centre[1]))) };
}

/** The corners of the rectangle along the board's axes that holds an outline, mm, one after the other around it. */
export function boxCorners(outline: Polygon): readonly [Point, Point, Point, Point] {
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  return [
    [minX, minY],
    [maxX, minY],
    [maxX, maxY],
    [minX, maxY],
  ];
}
