// sources: finishes of the side in view → the emissivity the camera sees at each pixel.
import type { BoardMap } from "../board/board-schema.js";
import { BOARD_FINISH, emissivityOf, FINISH_EMISSIVITY } from "../board/emissivity.js";
import type { PlacedView } from "../board/place-view.js";
import { signedArea } from "../board/polygon.js";
import { type PolygonCoverage, rasterisePolygon } from "../board/rasterise-polygon.js";

/** Draw the emissivities of the side in view, large parts first and shields over what they cover.
 *  @returns 0…1 per pixel, width×height; 0 off the board, mixed where a pixel sees two finishes.
 */
export function emissivityMap(
  board: BoardMap,
  view: PlacedView,
  width: number,
  height: number,
): Float32Array {
  const out = new Float32Array(width * height);
  const outline = rasterisePolygon(view, board.outline, width, height);
  paint(out, width, outline, FINISH_EMISSIVITY[BOARD_FINISH].emissivity);
  const inView = board.regions.filter((region) => region.side === view.side);
  const area = new Map(inView.map((region) => [region, Math.abs(signedArea(region.polygon))]));
  const isShield = (region: (typeof inView)[number]) => (region.kind === "shield" ? 1 : 0);
  inView.sort((a, b) => isShield(a) - isShield(b) || area.get(b)! - area.get(a)!);
  for (const region of inView) {
    paint(out, width, rasterisePolygon(view, region.polygon, width, height), emissivityOf(region));
  }
  return out;
}

function paint(out: Float32Array, width: number, part: PolygonCoverage, value: number): void {
  for (let y = 0, k = 0; y < part.height; y++) {
    let i = (part.y0 + y) * width + part.x0;
    for (let x = 0; x < part.width; x++, i++, k++) {
      out[i] = out[i]! + part.coverage[k]! * (value - out[i]!);
    }
  }
}
