// board: a point and a polygon, or two polygons → how far the one is from the other.
import { type Point, type Polygon, pointInPolygon } from "./polygon.js";

/** Compute the distance of a point from a segment; a segment of no length is a point. */
export function distanceToSegment(point: Point, from: Point, to: Point): number {
  const dx = to[0] - from[0];
  const dy = to[1] - from[1];
  const px = point[0] - from[0];
  const py = point[1] - from[1];
  const squared = dx * dx + dy * dy;
  // The naive formula divides 0 by 0 where both ends are one point.
  const share = squared > 0 ? Math.min(1, Math.max(0, (px * dx + py * dy) / squared)) : 0;
  return Math.hypot(px - share * dx, py - share * dy);
}

/** Compute the distance of a point from the nearest edge of a polygon, also for a point inside.
 *  @returns Infinity for a polygon without corners. */
export function distanceToEdges(point: Point, polygon: Polygon): number {
  let least = Number.POSITIVE_INFINITY;
  let before = polygon[polygon.length - 1];
  for (const corner of polygon) {
    least = Math.min(least, distanceToSegment(point, before!, corner));
    before = corner;
  }
  return least;
}

/** Compute the distance of a point from a polygon: 0 inside and on the edge, else the distance to the edge. */
export function distanceToPolygon(point: Point, polygon: Polygon): number {
  return pointInPolygon(polygon, point) ? 0 : distanceToEdges(point, polygon);
}

/** Compute the gap between two polygons: 0 where a corner of one lies in or on the other. Two that cross without that
 *  have the distance of their nearest corners and edges. */
export function polygonGap(a: Polygon, b: Polygon): number {
  const least = (corners: Polygon, other: Polygon) =>
    corners.reduce(
      (gap, corner) => Math.min(gap, distanceToPolygon(corner, other)),
      Number.POSITIVE_INFINITY,
    );
  return Math.min(least(a, b), least(b, a));
}
