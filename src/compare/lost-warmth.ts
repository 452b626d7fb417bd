// compare: warmth of all dull faces in two attempts → by how many sigma a shiny part's share of it is missing in one of
// them.
import type { PartFindings } from "../findings/parts-schema.js";
import { median } from "../numeric/median.js";
import { partAt } from "./part-place.js";

/** Fewer places say nothing of the board as a whole. */
const LEAST_PLACES = 3;
/** Places with less than this share of the largest warmth show none of what the part spreads. */
const LEAST_LEVEL = 0.2;
/** Scatter of the logarithm of warmth from one attempt to the next, in which the time since power-on counts (simulated
 *  jobs). */
export const RISE_SCATTER = 0.3;
/** Significance a rise must have to be one. */
export const LEAST_SIGNIFICANCE = 5;

/** Say by how many sigma the warmth of the board falls short of what a shiny part's heat would make of it. Its own face
 *  tells nothing, since it mirrors the room; but its share of the watts that were found made as large a share of the
 *  warmth around, at the least at half of the places.
 *  @param shown the part where it heats. @param there all parts of that attempt, @param here of the other one.
 *  @param factor how many times as much power it would have there.
 *  @returns null for a dull part, or where too few places are warm.
 */
export function lostWarmthSigmas(
  shown: PartFindings,
  there: readonly PartFindings[],
  here: readonly PartFindings[],
  factor: number,
): number | null {
  if (!shown.shiny || !((shown.powerW ?? 0) > 0)) return null;
  const share = shown.powerW! / there.reduce((sum, { powerW }) => sum + (powerW ?? 0), 0);
  // In place of a part out of sight the picture may show a mirror.
  const dull = there.filter(({ seen, shiny, riseK }) => seen && !shiny && (riseK ?? 0) > 0);
  const most = dull.reduce((max, { riseK }) => Math.max(max, riseK!), 0);
  const logs = dull.flatMap((place): number[] => {
    if (place.riseK! < LEAST_LEVEL * most || place.riseK! < LEAST_SIGNIFICANCE * (place.riseSigmaK ?? 0))
      return [];
    const other = partAt(here, place);
    if (other === undefined || other.riseK === null || other.riseSigmaK === null) return [];
    const left = Math.max(other.riseK, LEAST_SIGNIFICANCE * other.riseSigmaK);
    return [Math.log((factor * share * place.riseK!) / left)];
  });
  return logs.length < LEAST_PLACES ? null : Math.max(0, median(logs) / RISE_SCATTER);
}
