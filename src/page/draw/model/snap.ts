// page: a point under the pointer → the point that was meant: a corner, an edge, a straight line, or the grid.
import type { Point, Polygon } from "../../../board/polygon.js";
import { along } from "./edit-polygon.js";
import { tidy } from "./rectangle.js";

/** What a point was pulled to. */
type SnappedTo = "corner" | "edge" | "angle" | "grid" | null;

/** A point pulled to what lies near it. */
export interface Snapped {
  readonly point: Point;
  readonly to: SnappedTo;
}

/** What may pull. */
export interface SnapOptions {
  /** Pitch of the grid, mm; 0: none. */
  readonly gridMm: number;
  /** Farthest pull of corners and edges, mm: a few pixels of the screen. */
  readonly reachMm: number;
  /** Outlines whose corners and edges pull. */
  readonly polygons: readonly Polygon[];
  /** Corner before this one: lines from it in steps of 45° pull. */
  readonly from?: Point | null | undefined;
}

/** Pull a point. Corners go before edges, edges before lines of 45°, these before the grid, as the finer mark is the
 *  harder one to hit by chance. On a line of 45° the length still goes by the grid. */
export function snapPoint(point: Point, options: SnapOptions): Snapped {
  const { gridMm, reachMm, polygons, from } = options;
  const corner = nearestCorner(point, polygons, reachMm);
  if (corner !== null) return { point: corner, to: "corner" };
  const edge = nearestOnEdges(point, polygons, reachMm);
  if (edge !== null) return { point: [tidy(edge[0]), tidy(edge[1])], to: "edge" };
  if (from != null) {
    const straight = onStraightLine(point, from, reachMm, gridMm);
    if (straight !== null) return { point: straight, to: "angle" };
  }
  if (gridMm > 0) return { point: [toGrid(point[0], gridMm), toGrid(point[1], gridMm)], to: "grid" };
  return { point: [tidy(point[0]), tidy(point[1])], to: null };
}

/** Round to the grid, without the tails that multiplying leaves: 0.3, not 0.30000000000000004. */
export function toGrid(value: number, gridMm: number): number {
  return gridMm > 0 ? tidy(Math.round(value / gridMm) * gridMm) : tidy(value);
}

/** Pull a move of a whole shape: the corner of it that comes nearest to another corner or edge decides; else its first
 *  corner is put on the grid.
 *  @param polygon shape as it was before the move.
 *  @returns the move to be made instead. */
export function snapMove(polygon: Polygon, move: Point, options: SnapOptions): Point {
  let best: Point | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const [x, y] of polygon) {
    const moved: Point = [x + move[0], y + move[1]];
    const snapped = snapPoint(moved, { ...options, gridMm: 0, from: null });
    if (snapped.to === null) continue;
    // Any corner goes before any edge, however near.
    const pull = Math.hypot(snapped.point[0] - moved[0], snapped.point[1] - moved[1]);
    const far = snapped.to === "corner" ? pull : pull + options.reachMm;
    if (far >= least) continue;
    least = far;
    best = [snapped.point[0] - x, snapped.point[1] - y];
  }
  const first = polygon[0];
  if (best !== null || first === undefined || options.gridMm <= 0) return best ?? move;
  return [
    toGrid(first[0] + move[0], options.gridMm) - first[0],
    toGrid(first[1] + move[1], options.gridMm) - first[1],
  ];
}

function nearestCorner(point: Point, polygons: readonly Polygon[], reachMm: number): Point | null {
  let best: Point | null = null;
  let least = reachMm;
  for (const polygon of polygons) {
    for (const corner of polygon) {
      const far = Math.hypot(corner[0] - point[0], corner[1] - point[1]);
      if (far <= least) [least, best] = [far, corner];
    }
  }
  return best;
}

function nearestOnEdges(point: Point, polygons: readonly Polygon[], reachMm: number): Point | null {
  let best: Point | null = null;
  let least = reachMm;
  for (const polygon of polygons) {
    polygon.forEach((corner, i) => {
      const on = along(corner, polygon[(i + 1) % polygon.length]!, point);
      const far = Math.hypot(on[0] - point[0], on[1] - point[1]);
      if (far < least) [least, best] = [far, on];
    });
  }
  return best;
}

function onStraightLine(point: Point, from: Point, reachMm: number, gridMm: number): Point | null {
  const [dx, dy] = [point[0] - from[0], point[1] - from[1]];
  const length = Math.hypot(dx, dy);
  if (length === 0) return null;
  const eighths = Math.round(Math.atan2(dy, dx) / (Math.PI / 4));
  const offMm = Math.abs(Math.sin(Math.atan2(dy, dx) - (eighths * Math.PI) / 4)) * length;
  if (offMm > reachMm) return null;
  const ux = [1, 1, 0, -1, -1, -1, 0, 1][(eighths + 8) % 8]!;
  const uy = [0, 1, 1, 1, 0, -1, -1, -1][(eighths + 8) % 8]!;
  // Steps along the line, each `ux, uy`: on a slant both coordinates go by the grid together.
  const steps = toGrid((dx * ux + dy * uy) / (ux * ux + uy * uy), gridMm);
  return [tidy(from[0] + steps * ux), tidy(from[1] + steps * uy)];
}
