// sources: a face's pixels and a picture → what it shows there in sum, and some steps outside.
import { stepsAround } from "./steps-around.js";

/** A sum, and of how many. */
export interface Summed {
  readonly sum: number;
  readonly count: number;
}

/** Add up a picture over a face and over the band around it that begins where its blur has ended.
 *  @param face indices into width × height; those outside are passed over.
 *  @param fromPx, toPx steps outside the face where the band begins and ends, both of it.
 *  @param valueAt of a pixel; NaN = does not count.
 */
export function besideFace(
  face: Iterable<number>,
  width: number,
  height: number,
  fromPx: number,
  toPx: number,
  valueAt: (pixel: number) => number,
): { readonly face: Summed; readonly beside: Summed } {
  const sums = [0, 0];
  const counts = [0, 0];
  for (const [i, steps] of stepsAround(face, width, height, toPx)) {
    if (steps > 0 && steps < fromPx) continue;
    const value = valueAt(i);
    if (!(value * 0 === 0)) continue;
    const k = steps === 0 ? 0 : 1;
    sums[k]! += value;
    counts[k]!++;
  }
  return { face: { sum: sums[0]!, count: counts[0]! }, beside: { sum: sums[1]!, count: counts[1]! } };
}
