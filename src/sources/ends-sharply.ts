// sources: a face that changed and the rise around it → whether the change ends at its edge, as a mirror's does.
import type { Raster } from "../core/raster.js";
import { BESIDE_PX, besideFace, endsAtEdge } from "./beside-face.js";
import type { CoverageWindow } from "./coverage-window.js";

/** A pixel belongs to the face from this share of it on. */
const FACE_SHARE = 0.5;

/** True if what a face shows ends at its edge. Heat spreads: its hill goes on outside.
 *  @param rise K, NaN = no reading; not modified.
 *  @param onBoard 1 = on the board: nothing else tells.
 *  @param levelK change of the board around, K.
 *  @returns true as well where nothing around tells.
 */
export function endsSharply(
  { width, height, data }: Raster<"K">,
  { coverage, x0, y0, width: windowWidth }: CoverageWindow,
  onBoard: Uint8Array,
  levelK: number,
): boolean {
  const face: number[] = [];
  coverage.forEach((share, k) => {
    if (share >= FACE_SHARE) face.push((y0 + Math.floor(k / windowWidth)) * width + x0 + (k % windowWidth));
  });
  const shown = besideFace(face, width, height, ...BESIDE_PX, (i) =>
    onBoard[i] === 1 ? data[i]! - levelK : Number.NaN,
  );
  return shown.face.count === 0 || endsAtEdge(shown);
}
