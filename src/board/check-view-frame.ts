// board: a view and the size of the baseline frame → an error if the view was made for another frame.
import { ToolError } from "../core/errors.js";
import type { View } from "./board-schema.js";

/** Check that a view was made for frames of this size.
 *  @param width width of the baseline frame, px.
 *  @param height height of the baseline frame, px.
 *  @param file name of the view's file, for the error.
 *  @throws ToolError E_VIEW_FRAME if the size differs. */
export function checkViewFrame(view: View, width: number, height: number, file: string): void {
  const { frame } = view;
  if (frame.width === width && frame.height === height) return;
  const turned = frame.width === height && frame.height === width;
  throw new ToolError("E_VIEW_FRAME", {
    problem: `the view was made for frames of ${frame.width}×${frame.height}, but the baseline is ${width}×${height}${
      turned ? ", as if turned by a quarter" : ""
    }`,
    fix: "Make a view from this baseline, or give the baseline that belongs to the view",
    place: { file, path: "frame" },
  });
}
