// job: the name of a fed rail and the nets of a board → the net that was probably meant, where it is none of them.
import { nearestWord } from "../core/nearest-word.js";
import { sameName } from "../readings/classify-readings.js";

/** Look whether the name of a rail is a slip. What was fed need be no net of the map: only a name that is nearly one is
 *  doubted.
 *  @returns the net that was probably meant; null where the name is one of them, or near none.
 */
export function doubtRail(rail: string, nets: readonly string[]): string | null {
  if (nets.some((net) => sameName(net) === sameName(rail))) return null;
  return nearestWord(rail, nets);
}
