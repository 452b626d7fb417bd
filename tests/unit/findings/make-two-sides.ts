// tests: watts in a part of either side → frames of both sides, as a camera sees the board before and after it is
// turned over.
import type { BoardMap, View } from "../../../src/board/board-schema.js";
import { createRaster } from "../../../src/core/raster.js";
import type { AnalysisInput } from "../../../src/findings/analyse-options.js";
import { type Frame, frameFromRaster } from "../../../src/frames/frame.js";
import { showRise } from "../sources/relaxed-plate.js";
import { type AttemptRecipe, BOARD, makeAttempt, VIEW } from "./make-attempt.js";

/** The part that heats in these scenes, and the one right behind it on the other side. */
export const TOP_PART = "C1";
export const BOTTOM_PART = "C9";

/** C9 lies on the bottom, exactly behind C1. */
export const TWO_SIDED: BoardMap = {
  ...BOARD,
  regions: BOARD.regions.flatMap((region) =>
    region.ref === TOP_PART ? [region, { ...region, ref: BOTTOM_PART, side: "bottom" as const }] : [region],
  ),
};

/** Rows that the second camera's pictures have less: the two need not be of one size. */
const CUT_ROWS = 5;

/** The board turned over about its short axis: x runs the other way. */
export const VIEW_BELOW: View = {
  ...VIEW,
  side: "bottom",
  frame: { width: VIEW.frame.width, height: VIEW.frame.height - CUT_ROWS },
  fiducials: VIEW.fiducials.map(({ board, pixel }) => ({
    board,
    pixel: [VIEW.frame.width - 1 - pixel[0], pixel[1]] as [number, number],
  })),
};

/** Frames of one view with its view. */
export type SideInput = Pick<AnalysisInput, "baseline" | "powered"> & { readonly view: View };

/** Make both pairs. The face of the part that heats is 25 K a watt above the plate, and its own side alone shows that.
 *  @param side of the part that heats, `TOP_PART` or `BOTTOM_PART`.
 *  @param recipes what differs in either view from the usual attempt.
 */
export function makeTwoSides(
  side: "top" | "bottom",
  watts: number,
  seed: string,
  recipes: { readonly top?: Partial<AttemptRecipe>; readonly bottom?: Partial<AttemptRecipe> } = {},
): { top: SideInput; bottom: SideInput } {
  const plate = showRise({ [TOP_PART]: watts }, 0, seed, { [TOP_PART]: -25 * 0.92 * watts });
  const withBody = showRise({ [TOP_PART]: watts }, 0, seed);
  const pair = (seen: "top" | "bottom"): SideInput => {
    const rise = seen === side ? withBody : plate;
    const frames = makeAttempt({ seed: `${seed} ${seen}`, ...recipes[seen] });
    const [dx, dy] = recipes[seen]?.nudgePx ?? [0, 0];
    const { width } = VIEW.frame;
    const warm = frames.powered.map((frame) =>
      withData(
        frame,
        frame.raster.data.map((v, i) => v + (rise.data[i - dx - dy * width] ?? 0)),
      ),
    );
    return seen === "top"
      ? { baseline: frames.baseline, powered: warm, view: VIEW }
      : { baseline: frames.baseline.map(turned), powered: warm.map(turned), view: VIEW_BELOW };
  };
  return { top: pair("top"), bottom: pair("bottom") };
}

function withData({ raster: { width, height } }: Frame, data: Float32Array): Frame {
  return frameFromRaster(createRaster("degC", width, height, data));
}

/** Mirrored left to right, with the last rows cut off. */
function turned({ raster: { width, height, data } }: Frame): Frame {
  const rows = height - CUT_ROWS;
  const out = new Float32Array(width * rows);
  for (let i = 0; i < out.length; i++) {
    const x = i % width;
    out[i] = data[i - x + (width - 1 - x)]!;
  }
  return frameFromRaster(createRaster("degC", width, rows, out));
}
