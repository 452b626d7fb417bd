// numeric: a picture and a place between its pixel centres → the value there.

/** Sample a picture between pixel centres; beyond its border the border's values hold. Beside a pixel without a reading
 *  the nearest pixel counts alone, so that a hole stays as large as it is.
 *  @param data row-major, width×height, NaN = no reading; not modified. @param x,y px, integers are pixel centres.
 */
export function sampleBilinear(
  data: Float32Array,
  width: number,
  height: number,
  x: number,
  y: number,
): number {
  const heldX = Math.min(width - 1, Math.max(0, x));
  const heldY = Math.min(height - 1, Math.max(0, y));
  const x0 = heldX | 0;
  const y0 = heldY | 0;
  const at = y0 * width + x0;
  const right = x0 < width - 1 ? 1 : 0;
  const below = y0 < height - 1 ? width : 0;
  const fx = heldX - x0;
  const fy = heldY - y0;
  const value =
    (data[at]! * (1 - fx) + data[at + right]! * fx) * (1 - fy) +
    (data[at + below]! * (1 - fx) + data[at + below + right]! * fx) * fy;
  return value * 0 === 0 ? value : data[Math.round(heldY) * width + Math.round(heldX)]!;
}
