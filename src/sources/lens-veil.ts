// sources: what the faces that mirror show → the veil that one lens lays around all of them.
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { type Column, windowColumn } from "./column.js";
import type { CoverageWindow } from "./coverage-window.js";
import { HALO_SIGMA_PX } from "./mirror-shapes.js";

/** What a halo of the lens spreads of several faces' changes beyond their edges, and takes from them.
 *  The lens is one: where it veils one face's surroundings by some share of what that shows, it veils all by the same.
 *  @param rise K, one picture, NaN = no reading; not modified.
 *  @param faces with room around them for the halo.
 *  @returns K for a share of one; null where no face is in the picture.
 */
export function lensVeil(
  rise: Float32Array,
  width: number,
  faces: readonly CoverageWindow[],
  offset: number,
): Column | null {
  if (faces.length === 0) return null;
  const x0 = Math.min(...faces.map((face) => face.x0));
  const y0 = Math.min(...faces.map((face) => face.y0));
  const w = Math.max(...faces.map((face) => face.x0 + face.width)) - x0;
  const h = Math.max(...faces.map((face) => face.y0 + face.height)) - y0;
  const shown = new Float32Array(w * h);
  for (const face of faces) {
    for (let k = 0; k < face.coverage.length; k++) {
      const [x, y] = [face.x0 + (k % face.width), face.y0 + Math.floor(k / face.width)];
      const rose = rise[y * width + x]!;
      // A pixel that the face covers in part shows as much of it.
      if (face.coverage[k]! > 0 && rose * 0 === 0) shown[(y - y0) * w + x - x0] = rose;
    }
  }
  const spread = gaussianFilter(shown, w, h, HALO_SIGMA_PX);
  for (let k = 0; k < spread.length; k++) spread[k]! -= shown[k]!;
  return windowColumn({ x0, y0, width: w, height: h }, width, offset, spread);
}
