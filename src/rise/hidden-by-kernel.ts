// rise: a moved pair's difference → the part of the sensor's pattern that edges had hidden, by the compiled kernels.
import { affineOf, type RigidTransform } from "../align/rigid-transform.js";
import type { SeparatedFrame } from "../align/separate-pattern.js";
import type { Raster } from "../core/raster.js";
import type { Address } from "../numeric/kernel-exports.js";
import type { Kernels } from "../numeric/kernels.js";

/** Pictures of working memory that the solver wants; the first becomes its answer. */
const PICTURES = 4;
/** What they hold before it begins: scene, difference, where each pixel reads, and the detail of what is compared. */
const [SCENE, DIFFERENCE, READS, DETAIL] = [0, 1, 2, 3];
/** Lists that it wants, with room for all pixels: those of `involved`. */
const LISTS = 5;
/** What they name: pixels where it hides, pixels that show some of it, where these read, which of these lie inside, and
 *  what is compared. */
const [HIDDEN, SHOWING, SHOWN_READS, INSIDE, COMPARED] = [0, 1, 2, 3, 4];
/** Numbers of single precision that it wants for each hidden pixel. */
const NUMBERS = 5;

/** As the plain code of `resolvePattern` does, to the last bit. All places that were taken after `expected` are given
 *  back but that of the answer.
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
  const pictures = kernels.take(PICTURES * picture);
  const [seen, difference] = [pictures + SCENE * picture, pictures + DIFFERENCE * picture];
  kernels.floats(seen, n).set(scene.data);
  kernels.floats(difference, n).set(rise.data);
  const mirror = mirrors === null ? 0 : kernels.put(mirrors);
  const near = kernels.take(n);
  kernels.bytes(near, n).fill(0);
  const at = pictures + READS * picture;
  run.readsOf(width, height, ...move, at);
  const counts = kernels.take(16);
  // Of these no more is touched than is used.
  const lists = kernels.take(LISTS * picture);
  const list = (k: number): number => lists + k * picture;
  const detail = pictures + DETAIL * picture;
  const weight = kernels.take(picture);
  run.involved(
    expected,
    difference,
    seen,
    mirror,
    at,
    width,
    height,
    noiseK * noiseK,
    options.shiftPx * options.shiftPx,
    near,
    list(HIDDEN),
    list(SHOWING),
    list(SHOWN_READS),
    list(INSIDE),
    list(COMPARED),
    detail,
    weight,
    counts,
  );
  kernels.bytes(pictures, DETAIL * picture).fill(0);
  const told = kernels.integers(counts, 2);
  const [hidden, showing] = [told[0]!, told[1]!];
  const weights = kernels.take(16 * showing);
  run.readWeights(list(SHOWING), showing, width, ...move, weights);
  const work = kernels.take(4 * NUMBERS * hidden);
  run.solveHidden(expected, weight, weights, width, n, lists, counts, options.steps, pictures, work);
  kernels.giveBack(pictures + picture);
  return pictures;
}
