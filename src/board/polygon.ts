// board: a polygon's corners → its area, centre, bounds, and whether a point lies in it.
// Polygons are lists of corners without a repeated last one, in any unit; they may be concave.

/** `[x, y]` in any one unit; board points and frame points fit. */
export type Point = readonly [number, number];
/** The corners of a polygon in order, closed from the last to the first. */
export type Polygon = readonly Point[];

/** A rectangle along the axes. */
export interface Bounds {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** Compute the signed area of a polygon.
 *  Positive where the corners turn from +x to +y: anticlockwise with y up, clockwise as seen with y down.
 *  Method: shoelace sum about the first corner, which keeps the digits of a small polygon far from the origin.
 *  @returns the unit squared; 0 for fewer than three corners. Parts of a self-crossing polygon cancel. */
export function signedArea(polygon: Polygon): number {
  const first = polygon[0];
  if (first === undefined) return 0;
  let twice = 0;
  for (let i = 1; i + 1 < polygon.length; i++) {
    const a = polygon[i]!;
    const b = polygon[i + 1]!;
    twice += (a[0] - first[0]) * (b[1] - first[1]) - (b[0] - first[0]) * (a[1] - first[1]);
  }
  return twice / 2;
}

/** Compute the centre of a polygon's area. It may lie outside a concave polygon, or exactly on its edge.
 *  @returns the mean of the corners where the polygon has no area. */
export function centroid(polygon: Polygon): Point {
  const first = polygon[0];
  if (first === undefined) return [Number.NaN, Number.NaN];
  let twice = 0;
  let sumX = 0;
  let sumY = 0;
  for (let i = 1; i + 1 < polygon.length; i++) {
    const ax = polygon[i]![0] - first[0];
    const ay = polygon[i]![1] - first[1];
    const bx = polygon[i + 1]![0] - first[0];
    const by = polygon[i + 1]![1] - first[1];
    const cross = ax * by - bx * ay;
    twice += cross;
    sumX += (ax + bx) * cross;
    sumY += (ay + by) * cross;
  }
  if (twice === 0) return meanOf(polygon);
  return [first[0] + sumX / (3 * twice), first[1] + sumY / (3 * twice)];
}

/** Compute the smallest rectangle along the axes that holds all points. */
export function boundsOf(points: Polygon): Bounds {
  let minX = Number.POSITIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  for (const [x, y] of points) {
    minX = Math.min(minX, x);
    minY = Math.min(minY, y);
    maxX = Math.max(maxX, x);
    maxY = Math.max(maxY, y);
  }
  return { minX, minY, maxX, maxY };
}

/** Say whether a point lies in a polygon. **A point on an edge or corner is inside**, so that a hotspot on the
 *  border of two parts is in both and neither is favoured. "On" means exactly on, in double arithmetic.
 *  Method: even–odd crossings of a ray to +x (Shimrat 1962, Algorithm 112), with the edge tested first. */
export function pointInPolygon(polygon: Polygon, point: Point): boolean {
  const [px, py] = point;
  let inside = false;
  let before = polygon[polygon.length - 1];
  for (const corner of polygon) {
    const [ax, ay] = before!;
    const [bx, by] = corner;
    const cross = (bx - ax) * (py - ay) - (by - ay) * (px - ax);
    if (
      cross === 0 &&
      Math.min(ax, bx) <= px &&
      px <= Math.max(ax, bx) &&
      Math.min(ay, by) <= py &&
      py <= Math.max(ay, by)
    ) {
      return true;
    }
    // The half-open rule (one end counts, the other does not) keeps a ray through a corner from counting twice.
    if (ay > py !== by > py && (by > ay ? cross > 0 : cross < 0)) inside = !inside;
    before = corner;
  }
  return inside;
}

function meanOf(points: Polygon): Point {
  let x = 0;
  let y = 0;
  for (const point of points) {
    x += point[0];
    y += point[1];
  }
  return [x / points.length, y / points.length];
}
