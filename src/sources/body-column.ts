// sources: a part that is warmer than the plate under it → what its body shows to the camera.
import type { Region } from "../board/board-schema.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { type Column, windowColumn } from "./column.js";
import { coverageWindow } from "./coverage-window.js";
import type { Picture } from "./picture.js";

/** What a part shows in a picture if it is 1 K warmer than the plate under it: its body, K per pixel.
 *  Null where the camera looks at the other side, or the part is out of the picture.
 */
export function bodyColumn(picture: Picture, region: Pick<Region, "side" | "polygon">): Column | null {
  const { view, seen, offset } = picture;
  if (region.side !== view.side) return null;
  const { width, height, emissivity, opticsSigmaPx } = seen;
  const window = coverageWindow(view, region.polygon, width, height, 4 * opticsSigmaPx + 1);
  if (window === null) return null;
  const values = Float32Array.from(window.coverage, (share, k) => {
    const y = window.y0 + Math.floor(k / window.width);
    return share * emissivity[y * width + window.x0 + (k % window.width)]!;
  });
  return windowColumn(
    window,
    width,
    offset,
    gaussianFilter(values, window.width, window.height, opticsSigmaPx),
  );
}
