// page: a drawing and a point → the corner, edge or region under it.
import { type Point, type Polygon, pointInPolygon, signedArea } from "../../../board/polygon.js";
import { distanceToEdges } from "../../../board/polygon-distance.js";
import type { Drawing, DrawnRegion, Side } from "./drawing.js";

/** What a shape belongs to: the outline, or a region by its id. */
export type ShapeName = "outline" | number;

/** Find the region under a point: of those of one side the smallest, since a can covers what it shields.
 *  @param reachMm how far beside an edge still counts: thin parts must be hit too. */
export function regionUnder(drawing: Drawing, side: Side, point: Point, reachMm: number): DrawnRegion | null {
  let best: DrawnRegion | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const region of drawing.regions) {
    if (region.side !== side) continue;
    const { polygon } = region;
    if (!pointInPolygon(polygon, point) && distanceToEdges(point, polygon) > reachMm) continue;
    const area = Math.abs(signedArea(polygon));
    if (area < least) [least, best] = [area, region];
  }
  return best;
}

/** Find the corner of a polygon within reach of a point; null if none is. */
export function cornerUnder(polygon: Polygon, point: Point, reachMm: number): number | null {
  let best: number | null = null;
  let least = reachMm;
  polygon.forEach(([x, y], i) => {
    const far = Math.hypot(x - point[0], y - point[1]);
    if (far <= least) [least, best] = [far, i];
  });
  return best;
}

/** Find regions of a side that lie wholly between two points. */
export function regionsWithin(drawing: Drawing, side: Side, a: Point, b: Point): number[] {
  const [minX, maxX] = [Math.min(a[0], b[0]), Math.max(a[0], b[0])];
  const [minY, maxY] = [Math.min(a[1], b[1]), Math.max(a[1], b[1])];
  return drawing.regions
    .filter(
      (region) =>
        region.side === side &&
        region.polygon.every(([x, y]) => x >= minX && x <= maxX && y >= minY && y <= maxY),
    )
    .map(({ id }) => id);
}

/** The polygon of a shape; empty if it is gone. */
export function polygonOf(drawing: Drawing, shape: ShapeName): Polygon {
  if (shape === "outline") return drawing.outline;
  return drawing.regions.find(({ id }) => id === shape)?.polygon ?? [];
}

/** Give a shape another polygon. */
export function withPolygon(drawing: Drawing, shape: ShapeName, polygon: Polygon): Drawing {
  if (shape === "outline") return { ...drawing, outline: polygon };
  return {
    ...drawing,
    regions: drawing.regions.map((region) => (region.id === shape ? { ...region, polygon } : region)),
  };
}
