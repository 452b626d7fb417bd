// rise: a moved pair's difference → the part of the sensor's pattern that edges had hidden, by the compiled kernels.
import { affineOf, type RigidTransform } from "../align/rigid-transform.js";
import type { SeparatedFrame } from "../align/separate-pattern.js";
import type { Raster } from "../core/raster.js";
import type { Kernels } from "../numeric/kernels.js";

/** Pictures of working memory that the solver wants; the first becomes its answer. */
const SCRATCH = 7;

/** As the plain code of `resolvePattern` does, to the last bit.
 *  @param noiseK white noise of one pixel of the difference, K. @param scale size of the hidden pattern as expected, K.
 *  @returns K per pixel.
 */
export function hiddenByKernel(
  kernels: Kernels,
  { scene }: SeparatedFrame,
  rise: Raster<"K">,
  transform: RigidTransform,
  noiseK: number,
  mirrors: Uint8Array | null,
  scale: Float32Array,
  options: { readonly shiftPx: number; readonly steps: number },
): Float32Array {
  const { width, height } = rise;
  const n = width * height;
  const { run } = kernels;
  const [expected, difference, seen] = [kernels.put(scale), kernels.put(rise.data), kernels.put(scene.data)];
  const mirror = mirrors === null ? 0 : kernels.put(mirrors);
  const zeros = kernels.take(4 * (2 + SCRATCH) * n + 2 * n);
  const [detail, weight, scratch] = [zeros, zeros + 4 * n, zeros + 8 * n];
  const marks = scratch + 4 * SCRATCH * n;
  const at = kernels.take(4 * n);
  const weights = kernels.take(16 * n);
  const lists = kernels.take(16 * n);
  const counts = kernels.take(16);
  kernels.bytes(zeros, 4 * (2 + SCRATCH) * n + 2 * n).fill(0);
  const noise2 = noiseK * noiseK;
  run.weighDetail(
    difference,
    seen,
    mirror,
    width,
    height,
    noise2,
    options.shiftPx * options.shiftPx,
    detail,
    weight,
  );
  run.readsOf(width, height, ...affineOf(transform, rise), at, weights);
  const list = (k: number): number => lists + 4 * k * n;
  run.involved(expected, weight, at, width, n, marks, list(0), list(1), list(2), list(3), counts);
  run.solveHidden(expected, detail, weight, at, weights, width, n, lists, counts, options.steps, scratch);
  return kernels.floats(scratch, n).slice();
}
