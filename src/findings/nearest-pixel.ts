// findings: a place of the frame → the pixel that it lies in, or is nearest to.
import type { FramePoint } from "../core/units.js";

/** The pixel that a place lies in, as an index in the raster; of a place beside the frame the nearest one. */
export function nearestPixel(at: FramePoint, width: number, height: number): number {
  const x = Math.min(width - 1, Math.max(0, Math.round(at[0])));
  const y = Math.min(height - 1, Math.max(0, Math.round(at[1])));
  return y * width + x;
}
