// page: shapes of a drawing → where they are and how large, in words.
import { boundsOf, type Point, type Polygon } from "../../../board/polygon.js";
import type { Drawing, DrawnRegion } from "./drawing.js";
import { readRectangle } from "./rectangle.js";

/** Write millimetres as they are drawn: to a hundredth, without idle zeros. */
export function mmText(value: number): string {
  const rounded = Math.round(value * 100) / 100;
  return String(Object.is(rounded, -0) ? 0 : rounded);
}

/** Say where a point is: "12.5, 8 mm". */
export function sayPoint([x, y]: Point): string {
  return `${mmText(x)}, ${mmText(y)} mm`;
}

/** Say how large a shape is: "6 × 4 mm", with its turn or the number of its corners. */
export function saySize(polygon: Polygon): string {
  const rectangle = readRectangle(polygon);
  if (rectangle !== null) {
    const size = `${mmText(rectangle.widthMm)} × ${mmText(rectangle.heightMm)} mm`;
    return rectangle.turnDeg === 0 ? size : `${size}, turned by ${mmText(rectangle.turnDeg)}°`;
  }
  const { minX, minY, maxX, maxY } = boundsOf(polygon);
  return `${mmText(maxX - minX)} × ${mmText(maxY - minY)} mm, ${polygon.length} corners`;
}

/** Say where the middle of a shape is. */
export function middleOf(polygon: Polygon): Point {
  const { minX, minY, maxX, maxY } = boundsOf(polygon);
  return [(minX + maxX) / 2, (minY + maxY) / 2];
}

/** Call regions by their refs: "U7", "3 regions", "a region without ref". */
export function nameRegions(regions: readonly DrawnRegion[]): string {
  if (regions.length !== 1) return `${regions.length} regions`;
  const ref = regions[0]!.ref.trim();
  return ref === "" ? "the region without ref" : ref;
}

/** Say where regions are after they were moved or resized: "U7 at 20, 11 mm, 6 × 4 mm". */
export function sayRegions(drawing: Drawing, ids: ReadonlySet<number>): string {
  const regions = drawing.regions.filter(({ id }) => ids.has(id));
  if (regions.length === 0) return "";
  const all = regions.flatMap(({ polygon }) => polygon);
  const place = `${nameRegions(regions)} at ${sayPoint(middleOf(all))}`;
  return regions.length === 1 ? `${place}, ${saySize(all)}` : place;
}
