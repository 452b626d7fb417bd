// report: a smoothed rise → from where on it is coloured, whatever its significance; the same in report, small boards
// and page.

/** Falls are not heat but the room's changes and what is left of drift; rises of their size are taken for the same. */
const FALLS_FACTOR = 3;
/** Beside a strong source, what is this much fainter and does not stand out by itself tells nothing. */
const LEAST_SHARE_OF_PEAK = 0.04;

/** Find from where on a rise is coloured: three times the root mean square of the falls, and 4 % of the peak.
 *  @param rise K, NaN = no reading; not modified. @returns K; `peakK` is 0 where nothing warmed. */
export function leastColoured(rise: Float32Array): { leastK: number; peakK: number } {
  let sum = 0;
  let count = 0;
  let peakK = 0;
  for (let i = 0; i < rise.length; i++) {
    const value = rise[i]!;
    if (value > peakK) peakK = value;
    if (!(value < 0)) continue;
    sum += value * value;
    count++;
  }
  const fallsK = count === 0 ? 0 : Math.sqrt(sum / count);
  return { leastK: Math.max(FALLS_FACTOR * fallsK, LEAST_SHARE_OF_PEAK * peakK), peakK };
}
