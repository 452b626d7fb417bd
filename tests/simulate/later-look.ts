// simulate: a plan → the plan of a later attempt on its board.
import type { ScenePlan } from "./build-scene.js";
import type { Random } from "./random.js";
import { lookAgain } from "./second-look.js";
import { turnOver } from "./turn-over.js";

/** Least rise of the fault that an attempt is made for, K: below it nobody would write down or replace a part. */
export const LEAST_PEAK_K = 0.8;

/** The camera stands elsewhere; for a board turned over, over its other side. The time since power-on is much the same.
 *  @param seed draws the state of the room and of the board.
 */
export function laterLook(random: Random, plan: ScenePlan, seed: string, isTurnedOver: boolean): ScenePlan {
  const frames = {
    timesS: plan.timesS.map((timeS) => timeS * random.logUniform(0.6, 1.7)),
    poweredFrames: random.pick([1, 1, 2, 4]),
    baselineFrames: random.pick([1, 1, 2, 4]),
  };
  if (isTurnedOver) return { ...turnOver(random, plan), ...frames };
  const look = {
    turnDeg: random.uniform(-15, 15),
    scale: random.uniform(0.85, 1.1),
    shift: [random.uniform(-0.06, 0.06), random.uniform(-0.06, 0.06)] as const,
  };
  return { ...lookAgain(plan, seed, look), ...frames };
}
