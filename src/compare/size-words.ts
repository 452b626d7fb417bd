// compare: a part that is hotter or cooler → the words by which nobody is misled who sees its watts or its rise go the
// other way.
import type { ComparedPart } from "./comparison-schema.js";

/** A number that differs by less than this looks the same beside the other one. */
const LEAST_RATIO = 1.05;

/** Say what a change of strength rests on, to stand behind "hotter" or "stronger": it is told per watt fed in, and
 *  weighs rise and watts together, so that one of the numbers beside it may go the other way.
 *  @returns "" where all numbers go the way of the change, or it is none of strength.
 */
export function sizeWords({
  change,
  riseK,
  powerW,
  perWatt,
}: Pick<ComparedPart, "change" | "riseK" | "powerW" | "perWatt">): string {
  if (change !== "hotter" && change !== "cooler") return "";
  const isAgainst = ([before, after]: readonly [number | null, number | null]): boolean => {
    if (before === null || after === null) return false;
    const [less, more] = change === "hotter" ? [after, before] : [before, after];
    return less * LEAST_RATIO < more;
  };
  const goes = change === "hotter" ? "fall" : "rise";
  const isShared = perWatt[0] !== null && perWatt[1] !== null;
  if (isAgainst(isShared ? perWatt : powerW)) {
    return isShared && !isAgainst(powerW)
      ? `, though its share of what was fed in ${goes}s`
      : `, though its watts ${goes}`;
  }
  if (!isAgainst(powerW) && !isAgainst(riseK)) return "";
  if (isShared) return " per watt fed in";
  return `, though its warmest spot is ${change === "hotter" ? "cooler" : "warmer"}`;
}
