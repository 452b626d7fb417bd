// findings: rise over the whole board → the watts that it gives off to the air.
import { BOARD_FINISH, FINISH_EMISSIVITY, isShiny, SHINY_EMISSIVITY } from "../board/emissivity.js";
import { signedArea } from "../board/polygon.js";
import { framePixel, rasterisePolygon } from "../board/rasterise-polygon.js";
import { framePoint } from "../core/units.js";
import { emissivityMap } from "../sources/emissivity-map.js";
import type { BoardContext } from "./board-context.js";
import type { PreparedPair } from "./prepare-pair.js";

/** Watts with their standard uncertainty. */
export interface BoardLoss {
  readonly powerW: number;
  readonly sigmaW: number;
}

/** Relative uncertainty of the loss coefficient: a default, which is 14 to 26 W/m²K for boards that stand or lie free
 *  (0.18 if evenly spread, source-model.ts) and more in a draught, and one measured. */
const LOSS_SPREAD = 0.25;
const KNOWN_LOSS_SPREAD = 0.1;
/** Drift that is not even over the frame tilts the board's level against the bench's, K (half of the 0.1 K that smooth
 *  drift reaches on measured frames). */
const DRIFT_SPREAD_K = 0.05;
/** How much the room may have changed where no shiny face tells, K: somebody leans in or out. */
const USUAL_ROOM_K = 1;
/** Fewer readable pixels than this share of the board do not stand for it. */
const LEAST_SHARE = 0.3;

/** Add up what the board gives off: loss of both faces × the mean rise × the area. At rest that is all the heat there
 *  is, whatever conducts it and wherever it is made; on the way up it is less.
 *  The level is that of the bench beside the board: where the frame shows no bench a board that warmed evenly can't be
 *  told from drift, and the answer is null. A level that fell for the room's sake gives a loss below zero.
 *  @param lossWPerM2K both faces together.
 */
export function boardLoss(
  pair: PreparedPair,
  { board, view }: BoardContext,
  lossWPerM2K: number,
): BoardLoss | null {
  if (pair.drift.reference !== "off-board") return null;
  const { width, height } = pair.shape;
  const emissivity = emissivityMap(board, view, width, height);
  let sum = 0;
  let seenMm2 = 0;
  for (let i = 0; i < emissivity.length; i++) {
    const riseK = pair.rise.data[i]! / emissivity[i]!;
    if (!(emissivity[i]! > SHINY_EMISSIVITY) || !(riseK * 0 === 0)) continue;
    const mmPerPx = view.mmPerPxAt(framePoint(i % width, Math.floor(i / width)));
    sum += riseK * mmPerPx * mmPerPx;
    seenMm2 += mmPerPx * mmPerPx;
  }
  const areaMm2 = Math.abs(signedArea(board.outline));
  if (seenMm2 < LEAST_SHARE * areaMm2) return null;
  const wattsPerK = lossWPerM2K * areaMm2 * 1e-6;
  const powerW = (wattsPerK * sum) / seenMm2;
  const known = board.plate?.lossWPerM2K !== undefined;
  const maskEmissivity = FINISH_EMISSIVITY[BOARD_FINISH].emissivity;
  const mirroredK = (1 - maskEmissivity) * roomChange(pair, { board, view }, emissivity);
  const levelK = Math.hypot(pair.drift.offsetSigmaK, DRIFT_SPREAD_K, mirroredK) / maskEmissivity;
  const sigmaW = Math.hypot((known ? KNOWN_LOSS_SPREAD : LOSS_SPREAD) * powerW, wattsPerK * levelK);
  return { powerW, sigmaW };
}

/** How much the room that the board mirrors changed between the frames, root mean square over the shiny faces in view,
 *  K. The mask mirrors it too, weakly but over the whole board.
 */
function roomChange(pair: PreparedPair, { board, view }: BoardContext, emissivity: Float32Array): number {
  const { width, height } = pair.shape;
  let squares = 0;
  let count = 0;
  for (const region of board.regions) {
    if (region.side !== view.side || !isShiny(region)) continue;
    const face = rasterisePolygon(view, region.polygon, width, height);
    face.coverage.forEach((share, k) => {
      const i = framePixel(face, k, width);
      const change = pair.smoothRise.data[i]! / (1 - emissivity[i]!);
      if (share < 0.99 || !(change * 0 === 0)) return;
      squares += change * change;
      count++;
    });
  }
  return count === 0 ? USUAL_ROOM_K : Math.sqrt(squares / count);
}
