// sources: numbers per pixel → half the step over each pixel along x or y, and the size of both together.
import { halfStepSize } from "../numeric/pixel-errors.js";
import type { PictureSize } from "./picture.js";

/** Take half the step over each pixel, from the one before it to the one behind it.
 *  @param values width×height, row-major; not modified.
 *  @returns per pixel; 0 where a neighbour is missing.
 */
export function centralDifference(
  values: Float32Array,
  width: number,
  height: number,
  along: "x" | "y",
): Float32Array {
  const out = new Float32Array(values.length);
  const stride = along === "x" ? 1 : width;
  const [left, top] = along === "x" ? [1, 0] : [0, 1];
  for (let y = top; y < height - top; y++) {
    for (let i = y * width + left; i < (y + 1) * width - left; i++) {
      out[i] = 0.5 * (values[i + stride]! - values[i - stride]!);
    }
  }
  return out;
}

/** Work out the size of the gradient.
 *  @param values per pixel of all pictures; not modified.
 *  @returns per px; 0 at the border of each picture.
 */
export function gradientSize(values: Float32Array, pictures: readonly PictureSize[]): Float32Array {
  const out = new Float32Array(values.length);
  for (const { width, height, offset } of pictures) {
    out.set(halfStepSize(values.subarray(offset, offset + width * height), width, height), offset);
  }
  return out;
}
