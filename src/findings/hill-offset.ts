// findings: where a source lies and the heat that it makes → by how much the centre of its hill lies beside it.
import { createRaster } from "../core/raster.js";
import { type FramePoint, framePoint } from "../core/units.js";
import { LOCATE_DEFAULTS, locateSource } from "../hotspots/locate-source.js";
import { heatAt, type ViewHeat } from "./heat-in-view.js";

/** The centre of a hill that a board's corner cuts may lie as many windows from its top: of a quarter of a Gaussian as
 *  wide as the window 1.13, √2·√(2/π), and a third for hills with longer tails. */
const STRAY_WINDOWS = 1.5;
/** As far as the top of a hill may lie from its source, px. */
const MOST_OFFSET_PX = 12;
/** Pixels about a source that its place can hang on: three of the widest windows, and as far as its hill may lie. */
const REACH_PX = Math.ceil(3 * LOCATE_DEFAULTS.maxWindowPx + MOST_OFFSET_PX + LOCATE_DEFAULTS.maxStrayPx);

/** Locate the hill that a fit makes of a source as the frame's is located: heat stops at the board's edge, shiny faces
 *  hide some of it, other sources lean on it.
 *  @param heat of all sources, in the view. @param at where the source lies in its frame.
 *  @param windowPx of the Gaussian window that the frame's hill was located with.
 *  @returns px, from the source to the hill; null where no hill belongs to it.
 */
export function hillOffset(
  heat: ViewHeat,
  at: FramePoint,
  windowPx: number,
): readonly [number, number] | null {
  const [cx, cy] = [Math.round(at[0]), Math.round(at[1])];
  const side = 2 * REACH_PX + 1;
  const around = createRaster("K", side, side);
  const inFrame = (at: number, blocks: number) => at >= 0 && at < blocks * heat.factor;
  for (let y = 0, i = 0; y < side; y++)
    for (let x = 0; x < side; x++, i++) {
      const [u, v] = [x + cx - REACH_PX, y + cy - REACH_PX];
      const seen = inFrame(u, heat.rise.width) && inFrame(v, heat.rise.height);
      // The frame's own hill ends at its border, too.
      around.data[i] = seen ? heatAt(heat, u, v) : Number.NaN;
    }
  const peak = climb(around.data, side);
  if (peak === null) return null;
  const hill = locateSource(around, peak, 0, {
    startWindowPx: windowPx,
    minWindowPx: windowPx,
    maxWindowPx: windowPx,
    leastStrayPx: STRAY_WINDOWS * windowPx,
    maxStrayPx: STRAY_WINDOWS * windowPx,
  });
  // Without noise a place is exact, or it strayed.
  if (hill.sigmaPx > 0) return null;
  return [hill.at[0] + cx - REACH_PX - at[0], hill.at[1] + cy - REACH_PX - at[1]];
}

/** The top that the middle of a square leads up to; null where that lies too far off. */
function climb(data: Float32Array, side: number): FramePoint | null {
  let [x, y] = [REACH_PX, REACH_PX];
  for (let steps = 0; steps <= MOST_OFFSET_PX; steps++) {
    let [u, v] = [x, y];
    for (let b = y - 1; b <= y + 1; b++)
      for (let a = x - 1; a <= x + 1; a++) if (data[b * side + a]! > data[v * side + u]!) [u, v] = [a, b];
    if (u === x && v === y) return framePoint(x, y);
    [x, y] = [u, v];
  }
  return null;
}
