// sources: a fitted set → how much one source adds to the rise that the others spread where it is.
import { addPixels } from "../numeric/pixel-arithmetic.js";
import { largestShare } from "../numeric/pixel-errors.js";
import type { SetFit } from "./candidate-pool.js";
import type { ProjectedFit } from "./projected-fit.js";
import type { Candidate } from "./source-model.js";

/** Where it counts, a source's own rise has this share of its peak: at its fringe the others may spread hardly
 *  anything. */
const UPPER_SHARE = 0.5;
/** Less heat than this of the others is none, K. */
const LEAST_OTHERS_K = 1e-6;

/** Find the most that a source's own rise amounts to, in its upper half, as a share of the rise that all others spread
 *  there. What is a small share of it may be no source but uneven copper.
 *  @param c which candidate of the set.
 *  @returns the share, and what the others spread there, K.
 */
export function ownShare(
  fit: ProjectedFit,
  answer: SetFit,
  set: readonly Candidate[],
  c: number,
): { readonly share: number; readonly othersK: number } {
  const { starts, columns, amounts } = answer;
  const heatOf = (k: number) => {
    const end = starts[k + 1] ?? columns.length;
    return fit.heat(columns.slice(starts[k]!, end), amounts.slice(starts[k]!, end));
  };
  const own = heatOf(c);
  let rest: Float32Array = new Float32Array(own.length);
  for (let k = 0; k < set.length; k++) {
    if (k === c || set[k]!.kind !== "heat") continue;
    rest = addPixels(rest, heatOf(k));
  }
  const found = largestShare(own, rest, UPPER_SHARE, LEAST_OTHERS_K);
  return { share: found.share, othersK: found.rest };
}
