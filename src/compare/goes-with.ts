// compare: what became of each part's heat → weak heat that only goes along with stronger heat close beside it.
import type { Hotspot } from "../findings/findings-schema.js";
import type { PartFindings } from "../findings/parts-schema.js";
import type { Change } from "./comparison-schema.js";
import type { JudgedHeat } from "./judge-heat.js";
import { isWarm, type PartHeat } from "./name-part-heat.js";
import { distanceApartMm } from "./part-bounds.js";

/** So close beside a source, mm between the rectangles that hold two parts, the fit may put some of its watts on a
 *  neighbour: what copper and optics do otherwise than the plate tells is largest there. */
const BESIDE_MM = 2;

/** Leave unsure what only goes along with a change close beside it: that two sources take more, or less, at once is
 *  rare, while watts that the fit puts on a neighbour by a slip of its model follow the source that they are taken
 *  from. A weaker part beside a fault that changed follows it if its watts went with those of the fault rather than
 *  with the power; one that is normally warm, if it would be told to have changed as the fault did. Of 16 parts within
 *  2 mm of a fault that changed (369 simulated jobs) twelve heated, of which none followed; of the four that did not
 *  all did.
 *  Unsure, too, is a part that the other attempt has a hotspot for and this one shows by face and fit alone, beside a
 *  stronger fault that only this one has: what is shown of it may be that fault's.
 *  @returns in the order given, each with what it goes with, or what goes with it.
 */
export function leaveFollowers(judged: readonly JudgedHeat[]): JudgedHeat[] {
  const faults = judged.filter(({ heat }) => !isWarm(heat));
  const leaders = judged.map((one) =>
    faults.find(
      (other) =>
        other !== one &&
        ((isChange(other.change) && follows(one, other)) || attemptBehind(one, other) !== undefined),
    ),
  );
  return judged.map((one, k): JudgedHeat => {
    const leader = leaders[k];
    if (leader !== undefined) {
      const attempt = attemptBehind(one, leader);
      const behind = attempt === undefined ? {} : { behind: attempt };
      return { ...one, change: "unsure", goesWith: leader.heat.ref, ...behind };
    }
    const followers = judged.flatMap((other, j) => {
      // What lies behind a fault's heat is not in question for it: that has a hotspot of its own.
      return leaders[j] === one && attemptBehind(other, one) === undefined ? [other.heat.ref] : [];
    });
    return followers.length === 0 ? one : { ...one, followers };
  });
}

/** The attempt in which heat that has no hotspot there lies behind that of a stronger fault close beside it, which the
 *  other attempt does not have: what face and fit show of it may be that fault's, by the same slip. 0: the earlier one;
 *  undefined if there is none. */
function attemptBehind(one: JudgedHeat, leader: JudgedHeat): 0 | 1 | undefined {
  const attempt = leader.change === "gone" ? 0 : leader.change === "new" ? 1 : undefined;
  if (attempt === undefined || !one.heat.shown.every(Boolean) || one.heat.byFit) return undefined;
  const { heat } = one;
  if (hotspotOf(heat, attempt) !== null || hotspotOf(leader.heat, attempt) === null) return undefined;
  const isClose = heat.side === leader.heat.side && apartMm(heat, leader.heat) <= BESIDE_MM;
  return isClose && wattsOf(heat, attempt) < wattsOf(leader.heat, attempt) ? attempt : undefined;
}

function hotspotOf({ match }: PartHeat, attempt: 0 | 1): Hotspot | null {
  return attempt === 0 ? match.before : match.after;
}

function apartMm(one: PartHeat, other: PartHeat): number {
  const [a, b] = [one, other].map(({ before, after }) => after ?? before);
  return distanceApartMm(a!, b!);
}

function follows(one: JudgedHeat, leader: JudgedHeat): boolean {
  if (one.change === "unsure" || one.heat.side !== leader.heat.side) return false;
  if (apartMm(one.heat, leader.heat) > BESIDE_MM) return false;
  if (isWarm(one.heat)) return one.change === leader.change && keepsTo(one, leader);
  if (![0, 1].every((k) => wattsOf(one.heat, k) < wattsOf(leader.heat, k))) return false;
  const [lost, came] = [leader.change === "cooler", leader.change === "hotter"];
  return (lost && one.change === "gone") || (came && one.change === "new") || keepsTo(one, leader);
}

/** Whether the fit's watts of one part went with those of another rather than with the power. */
function keepsTo({ heat, division }: JudgedHeat, leader: JudgedHeat): boolean {
  const [own, others] = [logOf(heat), logOf(leader.heat)];
  if (own === null || others === null) return false;
  return Math.abs(own - others) < Math.abs(own - Math.log(division.factor));
}

function logOf(heat: PartHeat): number | null {
  const [a, b] = [wattsOf(heat, 0), wattsOf(heat, 1)];
  return a > 0 && b > 0 ? Math.log(b / a) : null;
}

/** Watts by the fit of one attempt, listed or not; of one state of the plate, so that parts can be held against each
 *  other. */
function wattsOf({ before, after }: PartHeat, attempt: number): number {
  const part: PartFindings | null = attempt === 0 ? before : after;
  return part?.triedW ?? part?.powerW ?? 0;
}

function isChange(change: Change): boolean {
  return change === "hotter" || change === "cooler";
}
