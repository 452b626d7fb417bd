// numeric: length of a line and side of its cells → the cells around each pixel, and their weights.
import type { Kernels } from "./kernels.js";
import type { SplineTaps } from "./smooth-by-kernel.js";

/** The last ones that were asked for, newest last: a frame is smoothed on the same cells again and again. */
const lastTaps: { readonly length: number; readonly side: number; readonly taps: SplineTaps }[] = [];
const MOST_TAPS = 8;

/** Find the cells of `side` pixels around each pixel of a line, and the weights of a quadratic B-spline by which they
 *  share it.
 *  @param kernels those that work at it, or null.
 */
export function splineTaps(length: number, side: number, kernels: Kernels | null): SplineTaps {
  const known = lastTaps.find((one) => one.length === length && one.side === side);
  if (known !== undefined) return known.taps;
  const taps = kernels === null ? makeTaps(length, side) : tapsByKernel(kernels, length, side);
  lastTaps.push({ length, side, taps });
  if (lastTaps.length > MOST_TAPS) lastTaps.shift();
  return taps;
}

function makeTaps(length: number, side: number): SplineTaps {
  const first = new Int32Array(length);
  const weights = new Float64Array(3 * length);
  for (let x = 0; x < length; x++) {
    const at = (x + 0.5) / side - 0.5;
    const nearest = Math.round(at);
    const t = at - nearest;
    first[x] = nearest;
    weights[3 * x] = 0.5 * (0.5 - t) ** 2;
    weights[3 * x + 1] = 0.75 - t * t;
    weights[3 * x + 2] = 0.5 * (0.5 + t) ** 2;
  }
  return { count: (first[length - 1] ?? 0) + 3, first, weights };
}

function tapsByKernel(kernels: Kernels, length: number, side: number): SplineTaps {
  const [weights, first] = [kernels.take(24 * length), kernels.take(4 * length)];
  kernels.run.splineTaps(length, side, first, weights);
  const cells = kernels.integers(first, length).slice();
  const taps = {
    count: (cells[length - 1] ?? 0) + 3,
    first: cells,
    weights: kernels.doubles(weights, 3 * length).slice(),
  };
  kernels.giveBack(weights);
  return taps;
}
