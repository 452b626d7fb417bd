// align: shapes and a picture → how much of each shape is in the picture.
import { solveSymmetric3 } from "./solve-symmetric-3.js";

/** Rounds of re-weighting; the amounts settle within them. */
const ROUNDS = 3;
/** The baseline's own contrast changes by no more than this share from one frame to the next (standard deviation). */
const CONTRAST_SPREAD = 0.3;

/** Fit up to three shapes to a picture by robust least squares. The first shape, the baseline itself, is expected in
 *  an amount of 1; of the others any amount will do.
 *  @param shapes K per unit, one size, NaN = left out; not modified.
 *  @param picture K, same size; not modified.
 *  @param scaleK difference at which a pixel's weight falls to one half.
 *  @returns an amount per shape.
 */
export function fitAmounts(shapes: readonly Float32Array[], picture: Float32Array, scaleK: number): number[] {
  const n = shapes.length;
  const amounts: number[] = shapes.map((_, k) => (k === 0 ? 1 : 0));
  if (n === 1) return amounts;
  const scale2 = scaleK * scaleK;
  const gram = new Float64Array(9);
  const right = new Float64Array(3);
  for (let round = 0; round < ROUNDS; round++) {
    gram.fill(0);
    right.fill(0);
    for (let i = 0; i < picture.length; i++) {
      let r = picture[i]!;
      for (let k = 0; k < n; k++) r -= amounts[k]! * shapes[k]![i]!;
      if (!(r * 0 === 0)) continue;
      // The first round has no fit yet to tell outliers by: it only caps what a hot spot can do.
      const weight = 1 / (1 + (r * r) / (scale2 * (round === 0 ? 100 : 4)));
      for (let a = 0; a < n; a++) {
        const wa = weight * shapes[a]![i]!;
        right[a]! += wa * picture[i]!;
        for (let b = 0; b <= a; b++) gram[a * 3 + b]! += wa * shapes[b]![i]!;
      }
    }
    const prior = scale2 / CONTRAST_SPREAD ** 2;
    gram[0]! += prior;
    right[0]! += prior;
    for (let k = 0; k < 3; k++) gram[k * 3 + k]! += 1e-9;
    const solved = solveSymmetric3(gram, right);
    if (!Number.isFinite(solved[0])) break;
    for (let k = 0; k < n; k++) amounts[k] = solved[k]!;
  }
  return amounts;
}
