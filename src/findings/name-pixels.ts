// findings: a polygon of the board and a view → the pixels that show it, by a name.
import type { PlacedView } from "../board/place-view.js";
import type { Polygon } from "../board/polygon.js";
import { framePixel, rasterisePolygon } from "../board/rasterise-polygon.js";

/** What covers less of a pixel than this does not show in it. */
const LEAST_SHARE = 0.05;

/** Give the pixels in which a polygon shows a name, in place of one that they have.
 *  @param names by the pixel's index in the frame; added to.
 */
export function namePixels(
  names: Map<number, string>,
  view: Pick<PlacedView, "matrix">,
  polygon: Polygon,
  { width, height }: { readonly width: number; readonly height: number },
  name: string,
): void {
  const part = rasterisePolygon(view, polygon, width, height);
  part.coverage.forEach((share, k) => {
    if (share >= LEAST_SHARE) names.set(framePixel(part, k, width), name);
  });
}
