// rise: a moved pair's difference → the part of the sensor's pattern that edges had hidden, by the compiled kernels.
import { affineOf, type RigidTransform } from "../align/rigid-transform.js";
import type { SeparatedFrame } from "../align/separate-pattern.js";
import type { Raster } from "../core/raster.js";
import type { Address } from "../numeric/kernel-exports.js";
import type { Kernels } from "../numeric/kernels.js";

/** Pictures of working memory that the solver wants; the first becomes its answer. */
const SCRATCH = 7;
/** Which of them hold something else before it begins: the second the scene, and so on. */
const [SEEN, DETAIL, DIFFERENCE, MARKS] = [1, 2, 3, 6];

/** As the plain code of `resolvePattern` does, to the last bit. All places that were taken after `expected` are given back but that
 *  of the answer.
 *  @param noiseK white noise of one pixel of the difference, K. @param expected where the size of the hidden pattern as
 *  expected lies in the kernels' memory, K.
 *  @returns where the hidden pattern lies there, K per pixel.
 */
export function hiddenByKernel(
  kernels: Kernels,
  { scene }: SeparatedFrame,
  rise: Raster<"K">,
  transform: RigidTransform,
  noiseK: number,
  mirrors: Uint8Array | null,
  expected: Address,
  options: { readonly shiftPx: number; readonly steps: number },
): Address {
  const { width, height } = rise;
  const n = width * height;
  const { run } = kernels;
  const move = affineOf(transform, rise);
  const picture = 4 * n;
  const mirror = mirrors === null ? 0 : kernels.put(mirrors);
  const weight = kernels.take((1 + SCRATCH) * picture);
  const scratch = weight + picture;
  kernels.bytes(weight, (1 + SCRATCH) * picture).fill(0);
  // What the solver's pictures hold in the beginning is not asked for again: a large picture's memory is all taken here.
  const seen = scratch + SEEN * picture;
  const detail = scratch + DETAIL * picture;
  const difference = scratch + DIFFERENCE * picture;
  const marks = scratch + MARKS * picture;
  kernels.floats(seen, n).set(scene.data);
  kernels.floats(difference, n).set(rise.data);
  const { noise2, shift2 } = { noise2: noiseK * noiseK, shift2: options.shiftPx * options.shiftPx };
  run.weighDetail(difference, seen, mirror, width, height, noise2, shift2, detail, weight);
  kernels.floats(seen, n).fill(0);
  const counts = kernels.take(16);
  const at = kernels.take(picture);
  run.readsOf(width, height, ...move, at);
  const lists = kernels.take(4 * picture);
  const list = (k: number): number => lists + k * picture;
  run.involved(expected, weight, at, width, n, marks, list(0), list(1), list(2), list(3), counts);
  const showing = kernels.integers(counts, 4)[1]!;
  const weights = kernels.take(16 * showing);
  run.readWeights(list(1), showing, width, ...move, weights);
  run.solveHidden(expected, detail, weight, at, weights, width, n, lists, counts, options.steps, scratch);
  kernels.giveBack(scratch + picture);
  return scratch;
}
