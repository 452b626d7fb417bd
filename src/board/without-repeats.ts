// board: a polygon's corners → the same polygon without corners that repeat the one before.
import type { Point, Polygon } from "./polygon.js";

/** Drop corners that repeat the corner before them, and a last one that repeats the first.
 *  @returns the corners left, and the numbers that they had. */
export function withoutRepeats(polygon: Polygon): { corners: Point[]; numbers: number[] } {
  const corners: Point[] = [];
  const numbers: number[] = [];
  for (let i = 0; i < polygon.length; i++) {
    const corner = polygon[i]!;
    const before = corners[corners.length - 1];
    if (before !== undefined && before[0] === corner[0] && before[1] === corner[1]) continue;
    corners.push(corner);
    numbers.push(i);
  }
  const first = corners[0];
  const last = corners[corners.length - 1];
  if (corners.length > 1 && first![0] === last![0] && first![1] === last![1]) {
    corners.pop();
    numbers.pop();
  }
  return { corners, numbers };
}
