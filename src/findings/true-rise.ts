// findings: a hotspot's peak and the finish seen there → how much warmer the surface truly became.
import { BOARD_FINISH, emissivityOf, FINISH_EMISSIVITY, SHINY_EMISSIVITY } from "../board/emissivity.js";
import { regionInView } from "../board/region-in-view.js";
import { framePoint } from "../core/units.js";
import { riseFromApparent } from "../rise/rise-from-apparent.js";
import type { BoardContext } from "./board-context.js";
import type { PreparedPair } from "./prepare-pair.js";

/** Turn the peak of a hotspot into the rise of the surface there, by the emissivity of the part in view at that pixel,
 *  or of solder mask beside all parts. Board and room are taken to be as warm as the baseline shows the place.
 *  @param peak pixel of the frame.
 *  @returns K; null off the board, where the map does not state the part's finish, and where the face mirrors the room.
 */
export function trueRise(
  pair: PreparedPair,
  { board, view }: BoardContext,
  peak: number,
  apparentRiseK: number,
): number | null {
  const { width } = pair.shape;
  const mm = view.toBoard(framePoint(peak % width, Math.floor(peak / width)));
  const seen = regionInView(board, mm, view.side);
  if (seen !== null && seen.finish === undefined && seen.emissivity === undefined) return null;
  const emissivity = seen === null ? FINISH_EMISSIVITY[BOARD_FINISH].emissivity : emissivityOf(seen);
  if (emissivity < SHINY_EMISSIVITY) return null;
  const baselineC = pair.baseline.data[peak]!;
  const riseK = riseFromApparent(apparentRiseK, emissivity, baselineC, baselineC);
  return Number.isFinite(riseK) ? riseK : null;
}
