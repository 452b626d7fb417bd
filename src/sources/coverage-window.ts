// sources: a polygon in a view → its coverage in a window with room around it for blurs.
import type { PlacedView } from "../board/place-view.js";
import type { Polygon } from "../board/polygon.js";
import { rasterisePolygon } from "../board/rasterise-polygon.js";
import type { Window } from "./column.js";

/** Coverage 0…1 in a window of the frame. */
export interface CoverageWindow extends Window {
  readonly coverage: Float32Array;
}

/** Rasterise a polygon in a window with a margin, cut at the frame's borders.
 *  @param marginPx room around the polygon, px.
 *  @returns null where nothing of the polygon is in the picture.
 */
export function coverageWindow(
  view: PlacedView,
  polygon: Polygon,
  width: number,
  height: number,
  marginPx: number,
): CoverageWindow | null {
  const part = rasterisePolygon(view, polygon, width, height);
  if (part.width === 0) return null;
  const margin = Math.ceil(marginPx);
  const x0 = Math.max(0, part.x0 - margin);
  const y0 = Math.max(0, part.y0 - margin);
  const w = Math.min(width, part.x0 + part.width + margin) - x0;
  const h = Math.min(height, part.y0 + part.height + margin) - y0;
  const coverage = new Float32Array(w * h);
  for (let y = 0; y < part.height; y++) {
    const row = part.coverage.subarray(y * part.width, (y + 1) * part.width);
    coverage.set(row, (part.y0 - y0 + y) * w + part.x0 - x0);
  }
  return { x0, y0, width: w, height: h, coverage };
}
