// sources: faces that mirror → the pixels that show them left out.
import { SHAPE_SHARES } from "./mirror-shapes.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** A pixel that shows less than this share of what the face mirrors tells of the board: stray light reaches some 14 px
 *  around a face, the hill of a heating shield not much further. */
const LEAST_SHARE = 0.01;

/** Leave out what shows any of some mirrors.
 *  @param variance K² per pixel; not modified.
 *  @returns the same with NaN there.
 */
export function withoutMirrors(
  model: Pick<SourceModel, "mirrorColumns">,
  variance: Float32Array,
  mirrors: readonly Candidate[],
): Float32Array {
  const beside = Float32Array.from(variance);
  for (const mirror of mirrors) {
    for (const [shape, { at, values }] of model.mirrorColumns(mirror).entries()) {
      const most = Math.min(1, SHAPE_SHARES[shape] ?? 1);
      at!.forEach((pixel, k) => {
        if (most * Math.abs(values[k]!) > LEAST_SHARE) beside[pixel] = Number.NaN;
      });
    }
  }
  return beside;
}
