// page: findings of an attempt → the few words on its card that say what heats.
import { formatProbability } from "../../core/format-quantity.js";
import type { Findings } from "../../findings/findings-schema.js";

/** Say what heats: the first part that is not normally warm with its chance, else that something heats all the same,
 *  for heat has no name without a view, nor where no region lies.
 */
export function namedHeat({ hotspots, suspects }: Pick<Findings, "hotspots" | "suspects">): string {
  const first = suspects.find(({ normallyWarm }) => !normallyWarm);
  if (first !== undefined) return `${first.ref} ${formatProbability(first.probability)}`;
  return hotspots.every(({ rank }) => suspects.some(({ hotspot }) => hotspot === rank))
    ? "Nothing that is not normally warm."
    : "Heat, and no part named.";
}
