// simulate: a plan and a part that is at fault → the parts that might be at fault in its stead, and could be told from
// it.
import type { ScenePlan } from "./build-scene.js";
import type { Part } from "./scene.js";

/** Parts on the same side, well apart from the first, that are on the map and can be seen as well as it.
 *  @param side of the board. @param listed refs that the map has.
 */
export function otherFaults(
  plan: ScenePlan,
  first: Part,
  side: Part["side"],
  listed: ReadonlySet<string>,
): Part[] {
  const { mmPerPx } = plan.camera;
  const taken = new Set(plan.chosen.map(({ part }) => part));
  return plan.board.parts.filter(
    (part) =>
      part.side === side &&
      listed.has(part.ref) &&
      !taken.has(part) &&
      !part.normallyWarm &&
      part.kind !== "connector" &&
      part.kind !== "shield" &&
      part.finish !== "bare-metal" &&
      Math.max(...part.sizeMm) / mmPerPx >= 1.5 &&
      apartMm(part, first) > Math.max(4, 8 * mmPerPx),
  );
}

function apartMm(a: Part, b: Part): number {
  return Math.hypot(a.centerMm[0] - b.centerMm[0], a.centerMm[1] - b.centerMm[1]);
}
