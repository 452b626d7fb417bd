// sources: finishes of the side in view → the emissivity the camera sees at each pixel.
import type { BoardMap } from "../board/board-schema.js";
import { BOARD_FINISH, emissivityOf, FINISH_EMISSIVITY } from "../board/emissivity.js";
import type { PlacedView } from "../board/place-view.js";
import { signedArea } from "../board/polygon.js";
import { coverageOf } from "./heat-columns.js";

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
  paint(out, coverageOf(view, board.outline, width, height), FINISH_EMISSIVITY[BOARD_FINISH].emissivity);
  const inView = board.regions.filter((region) => region.side === view.side);
  const area = new Map(inView.map((region) => [region, Math.abs(signedArea(region.polygon))]));
  const isShield = (region: (typeof inView)[number]) => (region.kind === "shield" ? 1 : 0);
  inView.sort((a, b) => isShield(a) - isShield(b) || area.get(b)! - area.get(a)!);
  for (const region of inView) {
    paint(out, coverageOf(view, region.polygon, width, height), emissivityOf(region));
  }
  return out;
}

function paint(out: Float32Array, coverage: Float32Array | null, value: number): void {
  if (coverage === null) return;
  for (let i = 0; i < out.length; i++) out[i] = out[i]! + coverage[i]! * (value - out[i]!);
}
