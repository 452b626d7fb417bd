// numeric: normal equations and groups of their unknowns → the variance of each group's sum.
import { choleskyFactor, choleskySolve } from "./cholesky.js";

/** Keeps rounding from making a matrix of products indefinite: the least share that the solver lets an unknown keep is
 *  1e-10. */
const RIDGE = 1e-12;

/** Give the variance of the sum of each group of unknowns: what two of a group share is in it, which for two that can
 *  hardly be told apart is nearly all that each of them is unsure of.
 *  @param gram AᵀA with A weighted by 1/σ, n×n row-major; not modified.
 *  @param fitted 1 for unknowns that were fitted; others are known to be 0.
 *  @param groups the numbers of the unknowns that belong to each; they may be in several or in none.
 *  @returns one per group, 0 where none of it was fitted.
 *  @throws RangeError if numbers don't fit, or if fitted unknowns are combinations of each other (a fault of the
 *  caller).
 */
export function sumVariances(
  gram: Float64Array,
  n: number,
  fitted: Uint8Array,
  groups: readonly (readonly number[])[],
): Float64Array {
  const last = groups.reduce((most, group) => Math.max(most, ...group), -1);
  if (gram.length !== n * n || fitted.length !== n || last >= n) {
    throw new RangeError(
      `${n} unknowns do not fit ${gram.length} products and groups of up to number ${last}`,
    );
  }
  const at = Array.from(fitted.keys()).filter((k) => fitted[k] === 1);
  const m = at.length;
  const products = new Float64Array(m * m);
  for (let a = 0; a < m; a++) for (let b = 0; b < m; b++) products[a * m + b] = gram[at[a]! * n + at[b]!]!;
  const factor = choleskyFactor(products, m, RIDGE);
  if (factor === null) throw new RangeError("unknowns that were fitted are combinations of each other");
  return Float64Array.from(groups, (group) => {
    const inGroup = Float64Array.from(at, (k) => (group.includes(k) ? 1 : 0));
    const solved = choleskySolve(factor, m, inGroup);
    return inGroup.reduce((sum, one, k) => sum + one * solved[k]!, 0);
  });
}
