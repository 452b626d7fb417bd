// findings: a told time since power-on that the rise contradicts → what is said of it, and what to do.
import { formatSeconds, formatSignificant } from "../core/format-quantity.js";
import type { TimeDoubt } from "../sources/doubt-time.js";

/** Say that heat has spread otherwise than by the time told, and what to check.
 *  @param isBurst the time follows from the rate of a burst.
 */
export function describeTimeDoubt({ toldS, likelyS }: TimeDoubt, isBurst: boolean): string {
  const asSeen =
    likelyS === null
      ? "as on a board that has come to rest, which takes minutes"
      : `as it does some ${formatSignificant(likelyS, 1)} s after power-on`;
  const told = formatSeconds(toldS);
  const check = isBurst
    ? `The rate makes that ${told} in the middle of the burst. Check --rate (frames per second), and that the first powered frame is the first with power`
    : `${told} were told. Check --after: seconds, not minutes, from power-on to the powered frames of this attempt`;
  return `In the frames heat has spread ${asSeen}. ${check}; and thicknessMm and plate in the map. Until that is put right the watts rest on the time told, and may be too high or too low by up to as many times as the time is.`;
}
