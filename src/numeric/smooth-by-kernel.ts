// numeric: picture and kernel of a Gaussian → the picture smoothed, by the compiled kernels.
import type { Kernels } from "./kernels.js";

/** What becomes of holes. */
export type HoleWay = "none" | "few" | "many" | "fill";

const WAYS: readonly HoleWay[] = ["none", "few", "many", "fill"];

/** Smooth as `gaussianFilter` does, to the last bit.
 *  @param half the kernel from its centre outwards. @param inX @param inY share of it inside a line.
 */
export function smoothByKernel(
  kernels: Kernels,
  data: Float32Array,
  width: number,
  height: number,
  half: Float64Array,
  inX: Float64Array,
  inY: Float64Array,
  way: HoleWay,
  out: Float32Array,
): Float32Array {
  const radius = half.length - 1;
  const padded = 8 * width * (height + 1);
  const from = kernels.put(data);
  const [kernel, x, y] = [kernels.put(half), kernels.put(inX), kernels.put(inY)];
  const line = kernels.take(8 * (width + 2 * radius));
  const values = kernels.take(padded);
  const weights = way === "none" ? 0 : kernels.take(padded);
  const sums = kernels.take(16 * width);
  const to = kernels.take(data.byteLength);
  kernels.run.smooth(
    from,
    width,
    height,
    kernel,
    radius,
    x,
    y,
    line,
    values,
    weights,
    sums,
    to,
    WAYS.indexOf(way),
  );
  out.set(kernels.floats(to, data.length));
  return out;
}

/** For each pixel of a line the first of the three cells around it, and their weights. */
export interface SplineTaps {
  /** Cells that the line needs: one more at either end than it covers. */
  readonly count: number;
  readonly first: Int32Array;
  readonly weights: Float64Array;
}

/** Smooth on cells as `wideGaussian` does, to the last bit.
 *  @param half the cells' kernel from its centre outwards.
 */
export function smoothWideByKernel(
  kernels: Kernels,
  data: Float32Array,
  weights: Float32Array | null,
  across: SplineTaps,
  down: SplineTaps,
  half: Float64Array,
): Float32Array {
  const [w, h] = [across.count, down.count];
  const from = kernels.put(data);
  const weight = weights === null ? 0 : kernels.put(weights);
  const [firstX, tapsX] = [kernels.put(across.first), kernels.put(across.weights)];
  const [firstY, tapsY] = [kernels.put(down.first), kernels.put(down.weights)];
  const kernel = kernels.put(half);
  const [sums, counts, work] = [kernels.take(8 * w * h), kernels.take(8 * w * h), kernels.take(8 * w * h)];
  const line = kernels.take(16 * w);
  const to = kernels.take(data.byteLength);
  kernels.run.smoothWide(
    from,
    weight,
    across.first.length,
    down.first.length,
    firstX,
    tapsX,
    firstY,
    tapsY,
    w,
    h,
    kernel,
    half.length - 1,
    sums,
    counts,
    work,
    line,
    to,
  );
  return kernels.floats(to, data.length).slice();
}
