// page: a polygon and a change of one corner → the polygon changed.

import type { Point, Polygon } from "../../../board/polygon.js";
import { distanceToSegment } from "../../../board/polygon-distance.js";

/** Corners that a polygon needs. */
export const LEAST_CORNERS = 3;

/** Put a corner into the edge that runs from corner `edge` to the next. */
export function insertCorner(polygon: Polygon, edge: number, corner: Point): Polygon {
  return [...polygon.slice(0, edge + 1), corner, ...polygon.slice(edge + 1)];
}

/** Put a corner elsewhere. */
export function moveCorner(polygon: Polygon, index: number, corner: Point): Polygon {
  return polygon.map((old, i) => (i === index ? corner : old));
}

/** Take a corner away; the same polygon where only three are left. */
export function removeCorner(polygon: Polygon, index: number): Polygon {
  return polygon.length <= LEAST_CORNERS ? polygon : polygon.filter((_, i) => i !== index);
}

/** Find the edge that a point is nearest to: the number of its first corner, the distance, and the place on it. */
export function nearestEdge(
  polygon: Polygon,
  point: Point,
): { edge: number; distanceMm: number; at: Point } | null {
  let best: { edge: number; distanceMm: number; at: Point } | null = null;
  polygon.forEach((from, edge) => {
    const to = polygon[(edge + 1) % polygon.length]!;
    const distanceMm = distanceToSegment(point, from, to);
    if (best === null || distanceMm < best.distanceMm)
      best = { edge, distanceMm, at: along(from, to, point) };
  });
  return best;
}

/** Find the place on a segment that is nearest to a point. */
export function along(from: Point, to: Point, point: Point): Point {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const lengthSquared = dx * dx + dy * dy;
  if (lengthSquared === 0) return from;
  const share = ((point[0] - from[0]) * dx + (point[1] - from[1]) * dy) / lengthSquared;
  const inside = Math.max(0, Math.min(1, share));
  return [from[0] + inside * dx, from[1] + inside * dy];
}
