// findings: the rise → how many pixels inside the picture have no reading.
import type { Raster } from "../core/raster.js";
import { countMissing } from "../numeric/pixel-arithmetic.js";

/** Count pixels without a reading that lie in holes of the picture. What reaches the frame's edge is no hole: there the
 *  picture ends, by a mask of the camera's or because the board moved.
 *  @param rise K, NaN = no reading; not modified. */
export function countHiddenPixels({ width, height, data }: Raster<"K">): number {
  const missing = countMissing(data);
  if (missing === 0) return 0;
  let entered = 0;
  const outside = new Uint8Array(data.length);
  const open: number[] = [];
  const enter = (i: number): void => {
    if (outside[i] === 1 || !Number.isNaN(data[i]!)) return;
    outside[i] = 1;
    entered++;
    open.push(i);
  };
  for (let x = 0; x < width; x++) {
    enter(x);
    enter((height - 1) * width + x);
  }
  for (let y = 0; y < height; y++) {
    enter(y * width);
    enter(y * width + width - 1);
  }
  for (let i = open.pop(); i !== undefined; i = open.pop()) {
    const x = i % width;
    if (x > 0) enter(i - 1);
    if (x < width - 1) enter(i + 1);
    if (i >= width) enter(i - width);
    if (i + width < data.length) enter(i + width);
  }
  return missing - entered;
}
