// simulate: a plan's parts that heat → the plate's rise, the bodies' rise, and the watts that give the strength asked
// for.
import type { ScenePlan } from "./build-scene.js";
import { addPlateHeat, bodyRiseK, bodyShape } from "./heat.js";
import { solveTransient } from "./plate.js";
import type { Point } from "./polygons.js";
import type { Scenery } from "./render.js";

/** What the parts do to the scene, and how strongly. */
export interface Heat {
  readonly watts: number[];
  readonly centers: Point[];
  readonly peakK: number;
  readonly at: (t: number) => Pick<Scenery, "plateRise" | "bodyRise">;
}

/** Solve the plate once for relative watts, then scale to the strength asked for.
 *  @param peakOf the largest rise the camera would show for a heated scenery, K.
 */
export function solveHeat(
  plan: ScenePlan,
  differenceK: number,
  peakOf: (s: Pick<Scenery, "plateRise" | "bodyRise">) => number,
): Heat {
  const centers: Point[] = [];
  const onsets = [...new Set(plan.chosen.map((one) => one.onsetS ?? 0))];
  const heats = onsets.map(() => new Float64Array(plan.grid.inside.length));
  for (const one of plan.chosen) {
    const heatW = heats[onsets.indexOf(one.onsetS ?? 0)]!;
    centers.push(addPlateHeat(plan.grid, one.part, one.share, heatW));
  }
  if (plan.chosen.length === 0) {
    const nothing = { plateRise: null, bodyRise: plan.scenery.parts.map(() => null) };
    return { watts: [], centers, peakK: 0, at: () => nothing };
  }
  const unit = addedUp(plan, onsets, heats);
  const at = (scale: number, t: number): Pick<Scenery, "plateRise" | "bodyRise"> => ({
    plateRise: unit[t]!.map((value) => value * scale),
    bodyRise: plan.scenery.parts.map((part) => {
      const one = plan.chosen.find((c) => c.part === part);
      if (one === undefined) return null;
      const mean = bodyRiseK(part, one.share * scale, Math.max(0, plan.timesS[t]! - (one.onsetS ?? 0)));
      return (u: number, v: number) => mean * bodyShape(part, u, v);
    }),
  });
  const last = plan.timesS.length - 1;
  const { by, value } = plan.strength;
  let scale = value;
  let peakK = 0;
  if (by === "watts") peakK = peakOf(at(scale, last));
  else {
    // The camera's answer is very nearly linear in the watts: one trial at about the right rise, then a correction.
    const targetK = by === "peakK" ? value : value * differenceK;
    scale = targetK / largest(unit[last]!);
    scale *= targetK / peakOf(at(scale, last));
    peakK = targetK;
  }
  const final = scale;
  return { watts: plan.chosen.map((one) => one.share * final), centers, peakK, at: (t) => at(final, t) };
}

/** The plate's rise at each of the plan's times: the answers to what starts at each onset, added up. */
function addedUp(
  plan: ScenePlan,
  onsets: readonly number[],
  heats: readonly Float64Array[],
): readonly Float64Array[] {
  const sum = plan.timesS.map(() => new Float64Array(plan.grid.inside.length));
  for (const [i, onsetS] of onsets.entries()) {
    const later = plan.timesS.flatMap((timeS, t) => (timeS > onsetS ? [t] : []));
    const since = later.map((t) => plan.timesS[t]! - onsetS);
    for (const [n, rise] of solveTransient(plan.grid, plan.constants, heats[i]!, since).entries()) {
      const total = sum[later[n]!]!;
      for (let c = 0; c < total.length; c++) total[c] = total[c]! + rise[c]!;
    }
  }
  return sum;
}

function largest(values: Float64Array): number {
  let best = 0;
  for (const value of values) best = Math.max(best, value);
  return best;
}
