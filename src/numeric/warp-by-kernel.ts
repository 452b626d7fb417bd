// numeric: picture in the kernels' memory and an affine map → the picture resampled, left there.
import { bridgedByKernel } from "./bridge-holes.js";
import type { Address } from "./kernel-exports.js";
import type { Kernels } from "./kernels.js";
import { splineByKernel } from "./spline-coefficients.js";
import type { AffineMatrix, WarpOrder } from "./warp.js";

const ORDERS: readonly WarpOrder[] = ["linear", "cubic", "spline"];

/** Resample as `warpRaster` does, to the last bit; the result is left in the kernels' memory.
 *  @param from where the picture lies there, of single precision.
 *  @returns where the result lies.
 */
export function warpAt(
  kernels: Kernels,
  from: Address,
  width: number,
  height: number,
  matrix: AffineMatrix,
  order: WarpOrder,
): Address {
  const n = width * height;
  const to = kernels.take(4 * n);
  const start = kernels.take(0);
  const holes = kernels.run.countMissing(from, n) > 0;
  const mask = holes ? kernels.take(n) : 0;
  if (holes) kernels.run.markKnown(from, n, mask);
  const filled = holes || order === "spline";
  const read = !filled
    ? kernels.take(8 * n)
    : (order === "spline" ? splineByKernel : bridgedByKernel)(kernels, from, width, height);
  kernels.run.warp(from, read, filled ? 1 : 0, mask, width, height, ...matrix, ORDERS.indexOf(order), to);
  kernels.giveBack(start);
  return to;
}
