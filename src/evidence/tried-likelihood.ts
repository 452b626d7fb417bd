// evidence: a part that an attempt does not name, and what the fit would give it there → what that says of its being at
// fault.
import type { EvidenceFigures } from "./evidence-defaults.js";
import type { SeenAttempt } from "./seen-attempt.js";

/** From here on what the fit would give a part is told as a reason for it. */
export const TRIED_SPEAKS = 5;

/** How many times as likely the fit's evidence for a part that no hotspot names is if the part heats as if it is cold.
 *  An attempt names heat only where it can be told from uneven copper by itself. Below that it still says for each part
 *  what heat there would explain (`triedEvidence`, half the χ² that it takes away): much for parts that heat and were
 *  missed, nothing for most of those that are cold. Of cold parts the share that reaches a given evidence falls with
 *  the exponential of its root, and the ratio rises about with the square of the evidence; at its upper end stand
 *  errors of the map and neighbours that took each other's heat. Heat far below what would have been found says nothing
 *  by being absent. Of a part that was named by power alone the attempt itself says how probable it is: its odds,
 *  without those that a board of such has a fault that does not show.
 *  @returns 1 where nothing was tried.
 */
export function triedRatio(
  attempt: SeenAttempt,
  key: string,
  expectedW: number | null,
  o: Pick<EvidenceFigures, "triedEven" | "triedMost" | "triedLeast" | "missedHeat" | "soundShare">,
): number {
  const odds = attempt.likeliest.get(key);
  if (odds !== undefined) return (odds * o.soundShare) / ((1 - o.soundShare) * o.missedHeat);
  const evidence = attempt.tried.get(key);
  if (evidence === undefined) return 1;
  const limitW = attempt.limitsW.get(key) ?? null;
  const strength = limitW === null || expectedW === null ? 1 : Math.min(1, expectedW / limitW);
  const least = 1 - (1 - o.triedLeast) * strength;
  return Math.min(o.triedMost, Math.max(least, (evidence / o.triedEven) ** 2));
}

/** How much each of several attempts counts that do not name a part: what copper and map make of a place they make
 *  again from another view (`sharedTried`).
 *  Method: as in `temperAttempts`.
 */
export function triedWeight(
  attempts: readonly SeenAttempt[],
  key: string,
  o: Pick<EvidenceFigures, "sharedTried">,
): number {
  const count = attempts.filter(({ placed, tried }) => placed && tried.has(key)).length;
  return 1 / (1 + Math.max(0, count - 1) * o.sharedTried);
}
