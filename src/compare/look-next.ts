// compare: heat that is still there though its part was changed → the parts that share its net or lie behind it.
import type { PartFindings } from "../findings/parts-schema.js";
import { sharedNets } from "../suspects/net-readings.js";
import type { ComparedPart, Comparison } from "./comparison-schema.js";
import { distanceApartMm, overlaps } from "./part-bounds.js";
import { partAt, placeKey } from "./part-place.js";

/** Parts named for one heat. */
const MOST_PARTS = 4;

/** List where to look next for heat that outlived the change of its part: parts behind it first, then those that share
 *  a net with it, the nearest first; ground is no net in this.
 *  @param all every part of the later attempt's map.
 */
export function lookNext(
  { parts, actions }: Pick<Comparison, "parts" | "actions">,
  all: readonly PartFindings[],
): Comparison["lookAt"] {
  const changed = new Set(actions.map(({ ref }) => ref));
  const stayed = parts.filter(
    (part) => changed.has(part.ref) && !part.normallyWarm && showsIn(part, 0) && showsIn(part, 1),
  );
  const out = new Map<string, Comparison["lookAt"][number]>();
  for (const { ref, side } of stayed) {
    const own = partAt(all, { ref, side });
    if (own === undefined) continue;
    const others = all
      .filter((part) => !changed.has(part.ref))
      .map((part) => ({ part, why: reasonFor(own, part), apartMm: distanceApartMm(own, part) }))
      .filter(({ why }) => why !== null)
      .sort((a, b) => Number(b.part.side !== side) - Number(a.part.side !== side) || a.apartMm - b.apartMm);
    for (const { part, why } of others.slice(0, MOST_PARTS)) {
      const key = placeKey(part);
      if (!out.has(key)) out.set(key, { ref: part.ref, side: part.side, why: why! });
    }
  }
  return [...out.values()];
}

/** An attempt shows heat of the part, by a hotspot or, without one, by its face or the board around it. */
export function showsIn(
  { hotspots, faceAlone }: Pick<ComparedPart, "hotspots" | "faceAlone">,
  attempt: 0 | 1,
): boolean {
  return hotspots[attempt] !== null || faceAlone?.[attempt] === true;
}

function reasonFor(own: PartFindings, other: PartFindings): string | null {
  if (own.side !== other.side && overlaps(own, other)) return `lies behind ${own.ref}`;
  const nets = sharedNets({ nets: own.nets ?? [] }, { nets: other.nets ?? [] });
  return nets.length === 0 ? null : `shares ${nets.slice(0, 2).join(" and ")} with ${own.ref}`;
}
