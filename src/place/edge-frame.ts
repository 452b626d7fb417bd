// place: a frame → the same without faulty pixels and without the offsets of the sensor's columns and rows.
import { linePattern } from "../align/line-pattern.js";
import { findBadPixels } from "../clean/find-bad-pixels.js";
import { repairPixels } from "../clean/repair-pixels.js";
import { createRaster, type Raster } from "../core/raster.js";

/** Take off a frame what belongs to the sensor: lone pixels, and offsets of whole columns and rows.
 *  What is left of the pattern differs from pixel to pixel and has no edges.
 *  @param frame °C, NaN = no reading; not modified.
 */
export function edgeFrame(frame: Raster<"degC">): Raster<"degC"> {
  const repaired = repairPixels([frame], findBadPixels(frame, null).mask).frames[0]!;
  const { columnsK, rowsK } = linePattern([repaired]);
  const { width, height } = frame;
  const data = new Float32Array(frame.data.length);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) data[i] = repaired.data[i]! - columnsK[x]! - rowsK[y]!;
  }
  return createRaster("degC", width, height, data);
}
