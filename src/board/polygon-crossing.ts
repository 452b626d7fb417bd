// board: a polygon → where it crosses itself; two polygons → whether they share area.
import { boundsOf, type Point, type Polygon, pointInPolygon, signedArea } from "./polygon.js";
import { distanceToEdges, distanceToPolygon } from "./polygon-distance.js";

/** Two edges of one polygon that meet though they should not; edge n runs from corner n to the next. */
export interface Crossing {
  readonly firstEdge: number;
  readonly secondEdge: number;
}

/** Find two edges of a polygon that cross, touch or overlap. Neighbours may share their corner and no more.
 *  Expects no corner repeated directly after itself (`withoutRepeats`).
 *  Method: edges sorted by their left end, so that only edges which overlap in x are compared.
 *  @returns the pair with the lowest numbers among those found first from the left; null for a simple polygon. */
export function findSelfCrossing(polygon: Polygon): Crossing | null {
  const n = polygon.length;
  const left = (edge: number) => Math.min(polygon[edge]![0], polygon[(edge + 1) % n]![0]);
  const right = (edge: number) => Math.max(polygon[edge]![0], polygon[(edge + 1) % n]![0]);
  const order = Array.from({ length: n }, (_, i) => i).sort((a, b) => left(a) - left(b) || a - b);
  for (let k = 0; k < n; k++) {
    const a = order[k]!;
    for (let m = k + 1; m < n && left(order[m]!) <= right(a); m++) {
      const first = Math.min(a, order[m]!);
      const second = Math.max(a, order[m]!);
      if (edgesMeet(polygon, first, second)) return { firstEdge: first, secondEdge: second };
    }
  }
  return null;
}

function edgesMeet(polygon: Polygon, first: number, second: number): boolean {
  const n = polygon.length;
  const a = polygon[first]!;
  const b = polygon[(first + 1) % n]!;
  const c = polygon[second]!;
  const d = polygon[(second + 1) % n]!;
  if (second === first + 1) return doublesBack(a, b, d);
  if (first === 0 && second === n - 1) return doublesBack(c, a, b);
  return segmentsMeet(a, b, c, d);
}

/** True if the way from `a` to `corner` runs back over itself towards `b`. */
function doublesBack(a: Point, corner: Point, b: Point): boolean {
  return (
    turn(a, corner, b) === 0 &&
    (a[0] - corner[0]) * (b[0] - corner[0]) + (a[1] - corner[1]) * (b[1] - corner[1]) > 0
  );
}

function segmentsMeet(a: Point, b: Point, c: Point, d: Point): boolean {
  const abc = turn(a, b, c);
  const abd = turn(a, b, d);
  const cda = turn(c, d, a);
  const cdb = turn(c, d, b);
  if (abc * abd < 0 && cda * cdb < 0) return true;
  return (
    (abc === 0 && inBox(a, b, c)) ||
    (abd === 0 && inBox(a, b, d)) ||
    (cda === 0 && inBox(c, d, a)) ||
    (cdb === 0 && inBox(c, d, b))
  );
}

/** -1, 0 or 1: the side of the line a→b on which c lies. */
function turn(a: Point, b: Point, c: Point): number {
  return Math.sign((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]));
}

function inBox(a: Point, b: Point, p: Point): boolean {
  return (
    Math.min(a[0], b[0]) <= p[0] &&
    p[0] <= Math.max(a[0], b[0]) &&
    Math.min(a[1], b[1]) <= p[1] &&
    p[1] <= Math.max(a[1], b[1])
  );
}

/** Say whether two simple polygons share area; a common edge or corner is no area.
 *  Method: the outlines are cut where they meet; if areas overlap, the middle of some piece of one lies inside the
 *  other, or one holds the other whole.
 *  @param tolerance depth up to which an overlap is overlooked, in the unit of the corners. */
export function polygonsOverlap(a: Polygon, b: Polygon, tolerance = 0): boolean {
  if (!boundsMeet(a, b)) return false;
  const least = Math.max(tolerance, 1e-9 * extentOf(a, b));
  const deepIn = (host: Polygon) => (p: Point) => pointInPolygon(host, p) && distanceToEdges(p, host) > least;
  if (outlinePoints(a, b).some(deepIn(b)) || outlinePoints(b, a).some(deepIn(a))) return true;
  // What is left: no overlap, or the same outline twice.
  const same = (host: Polygon) => (p: Point) => distanceToEdges(p, host) <= least;
  return a.every(same(b)) && b.every(same(a)) && Math.abs(signedArea(a)) > least * extentOf(a, b);
}

/** Say whether `outer` holds all of `inner`, edges included.
 *  @param tolerance how far `inner` may stick out, in the unit of the corners. */
export function polygonContains(outer: Polygon, inner: Polygon, tolerance = 0): boolean {
  return distanceOutside(inner, outer) <= Math.max(tolerance, 1e-9 * extentOf(outer, inner));
}

/** Compute how far a polygon reaches outside another, over its corners and the middles of its cut edges.
 *  @returns 0 where nothing sticks out. */
export function distanceOutside(polygon: Polygon, host: Polygon): number {
  let most = 0;
  for (const point of outlinePoints(polygon, host)) most = Math.max(most, distanceToPolygon(point, host));
  return most;
}

/** The corners of a polygon and the middle of every piece into which another one cuts its edges. */
function outlinePoints(polygon: Polygon, cutter: Polygon): Point[] {
  const points: Point[] = [];
  for (let i = 0; i < polygon.length; i++) {
    const a = polygon[i]!;
    const b = polygon[(i + 1) % polygon.length]!;
    points.push(a);
    const cuts = [0, ...cutsOf(a, b, cutter), 1].sort((p, q) => p - q);
    for (let k = 0; k + 1 < cuts.length; k++) {
      const middle = (cuts[k]! + cuts[k + 1]!) / 2;
      points.push([a[0] + middle * (b[0] - a[0]), a[1] + middle * (b[1] - a[1])]);
    }
  }
  return points;
}

/** Shares of the way from `a` to `b` at which the edges of another polygon cross or touch it. */
function cutsOf(a: Point, b: Point, cutter: Polygon): number[] {
  const cuts: number[] = [];
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const squared = dx * dx + dy * dy;
  const { minX, minY, maxX, maxY } = boundsOf([a, b]);
  for (let i = 0; i < cutter.length; i++) {
    const c = cutter[i]!;
    const d = cutter[(i + 1) % cutter.length]!;
    // Most edges are nowhere near.
    if (
      Math.max(c[0], d[0]) < minX ||
      Math.min(c[0], d[0]) > maxX ||
      Math.max(c[1], d[1]) < minY ||
      Math.min(c[1], d[1]) > maxY
    ) {
      continue;
    }
    const ex = d[0] - c[0];
    const ey = d[1] - c[1];
    const det = dx * ey - dy * ex;
    if (det !== 0) {
      const along = ((c[0] - a[0]) * ey - (c[1] - a[1]) * ex) / det;
      const across = ((c[0] - a[0]) * dy - (c[1] - a[1]) * dx) / det;
      if (along > 0 && along < 1 && across >= 0 && across <= 1) cuts.push(along);
    }
    if (det === 0) {
      // Parallel edges may lie on one line: then a corner cuts.
      const corner = ((c[0] - a[0]) * dx + (c[1] - a[1]) * dy) / squared;
      if (corner > 0 && corner < 1) cuts.push(corner);
    }
  }
  return cuts;
}

function boundsMeet(a: Polygon, b: Polygon): boolean {
  const p = boundsOf(a);
  const q = boundsOf(b);
  return p.minX <= q.maxX && q.minX <= p.maxX && p.minY <= q.maxY && q.minY <= p.maxY;
}

function extentOf(a: Polygon, b: Polygon): number {
  const p = boundsOf([...a, ...b]);
  return Math.hypot(p.maxX - p.minX, p.maxY - p.minY);
}
