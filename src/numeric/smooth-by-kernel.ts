// numeric: picture and kernel of a Gaussian → the picture smoothed, by the compiled kernels.
import type { Address } from "./kernel-exports.js";
import type { Kernels } from "./kernels.js";

/** What becomes of holes. */
export type HoleWay = "none" | "few" | "many" | "fill";

const WAYS: readonly HoleWay[] = ["none", "few", "many", "fill"];

/** Rows that the kernel does at a time. */
const BLOCK = 32;

/** Smooth as `gaussianFilter` does, to the last bit.
 *  @param from where the picture lies in the kernels' memory.
 *  @param half the kernel from its centre outwards. @param inX @param inY share of it inside a line, for each pixel of
 *  it.
 *  @returns where the smoothed one lies.
 */
export function smoothByKernel(
  kernels: Kernels,
  from: Address,
  half: Float64Array,
  inX: Float64Array,
  inY: Float64Array,
  way: HoleWay,
): Address {
  const radius = half.length - 1;
  const [width, height] = [inX.length, inY.length];
  const padded = 8 * width * (BLOCK + 1 + 2 * radius);
  const to = kernels.take(4 * width * height);
  const [kernel, x, y] = [kernels.put(half), kernels.put(inX), kernels.put(inY)];
  const line = kernels.take(8 * (width + 2 * radius));
  const values = kernels.take(padded);
  const weights = way === "none" ? 0 : kernels.take(padded);
  const sums = kernels.take(16 * width);
  const hole = WAYS.indexOf(way);
  kernels.run.smooth(from, width, height, kernel, radius, x, y, line, values, weights, sums, to, hole);
  kernels.giveBack(kernel);
  return to;
}

/** The same for every so many pixels of a picture without holes. @param to where they go. */
export function smoothSomeByKernel(
  kernels: Kernels,
  from: Address,
  half: Float64Array,
  inX: Float64Array,
  inY: Float64Array,
  step: number,
  to: Address,
): void {
  const radius = half.length - 1;
  const [width, height] = [inX.length, inY.length];
  const [kernel, x, y] = [kernels.put(half), kernels.put(inX), kernels.put(inY)];
  const line = kernels.take(8 * (width + 2 * radius));
  const values = kernels.take(8 * width * height);
  kernels.run.smoothSome(from, width, height, kernel, radius, x, y, line, values, step, to);
  kernels.giveBack(kernel);
}

/** For each pixel of a line the first of the three cells around it, and their weights. */
export interface SplineTaps {
  /** Cells that the line needs: one more at either end than it covers. */
  readonly count: number;
  readonly first: Int32Array;
  readonly weights: Float64Array;
}

/** Smooth on cells as `wideGaussian` does, to the last bit.
 *  @param from where the picture lies in the kernels' memory. @param weights where the weights lie; 0: all alike.
 *  @param half the cells' kernel from its centre outwards.
 *  @returns where the smoothed one lies.
 */
export function smoothWideByKernel(
  kernels: Kernels,
  from: Address,
  weights: Address,
  across: SplineTaps,
  down: SplineTaps,
  half: Float64Array,
): Address {
  const [w, h] = [across.count, down.count];
  const [width, height] = [across.first.length, down.first.length];
  const to = kernels.take(4 * width * height);
  const firstX = kernels.put(across.first);
  const [tapsX, firstY] = [kernels.put(across.weights), kernels.put(down.first)];
  const [tapsY, kernel] = [kernels.put(down.weights), kernels.put(half)];
  const [cells, work] = [kernels.take(16 * w * h), kernels.take(16 * w * h)];
  const line = kernels.take(32 * w);
  const radius = half.length - 1;
  kernels.run.smoothWide(
    from,
    weights,
    width,
    height,
    firstX,
    tapsX,
    firstY,
    tapsY,
    w,
    h,
    kernel,
    radius,
    cells,
    work,
    line,
    to,
  );
  kernels.giveBack(firstX);
  return to;
}
