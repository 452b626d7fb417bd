// sources: a set with and without a source → the evidence for it by how much what the fit leaves scatters where the
// source tells.
import type { SetFit } from "./candidate-pool.js";
import type { PictureSize } from "./picture.js";
import type { ProjectedFit } from "./projected-fit.js";

/** Side of the blocks, px: wider than what the fit leaves of most patches and pads, so that all of one errs
 *  together. */
const BLOCK_PX = 24;

/** Weigh a source by what the fit leaves where the source tells. The residual scale is that of the whole board, its
 *  worst places left aside; where a hill stands on a patch that no source explains, the fit errs by a good share of the
 *  hill, and there alone. Method: t² with a variance that is robust to blocks of pixels which err together (Liang and
 *  Zeger 1986, Biometrika 73, 13–22).
 *  @param without fit of the set without the source. @param answer fit of the set.
 *  @param variance K² per pixel; not modified.
 *  @returns t²; of white noise of the stated variance as large as the χ² lost without the source.
 */
export function evidenceByScatter(
  fit: Pick<ProjectedFit, "residual">,
  without: Pick<SetFit, "columns" | "amounts">,
  answer: Pick<SetFit, "columns" | "amounts">,
  variance: Float32Array,
  pictures: readonly PictureSize[],
): number {
  const before = fit.residual(without.columns, without.amounts);
  const after = fit.residual(answer.columns, answer.amounts);
  let explained = 0;
  let scatter = 0;
  for (const { width, height, offset } of pictures) {
    const across = Math.ceil(width / BLOCK_PX);
    const sums = new Float64Array(across * Math.ceil(height / BLOCK_PX));
    for (let i = offset, k = 0; k < width * height; i++, k++) {
      // What the source takes off is its own column with all others taken out, × its amount.
      const own = (before[i]! - after[i]!) / variance[i]!;
      const product = own * after[i]!;
      if (!(product * 0 === 0)) continue;
      explained += own * (before[i]! - after[i]!);
      sums[Math.floor(k / width / BLOCK_PX) * across + Math.floor((k % width) / BLOCK_PX)]! += product;
    }
    for (const sum of sums) scatter += sum * sum;
  }
  return scatter > 0 ? (explained * explained) / scatter : Number.POSITIVE_INFINITY;
}
