// clean: frames of one role → their mean alone.
import type { Raster } from "../core/raster.js";
import type { Frame } from "../frames/frame.js";
import { averageFrames } from "./average-frames.js";

/** Average frames for a look at the board, where their noise is not asked for. @throws ToolError as `averageFrames`. */
export function meanFrame(frames: readonly Frame[]): Raster<"degC"> {
  return averageFrames(frames.map(({ raster }) => raster)).mean;
}
