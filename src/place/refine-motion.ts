// place: edge groups of the earlier frame, a band-passed later frame and a first guess → the motion that fits best.

import type { Raster } from "../core/raster.js";
import { choleskyFactor, choleskySolve } from "../numeric/cholesky.js";
import { hasSettled } from "../numeric/has-settled.js";
import type { BoardArm } from "./board-arm.js";
import type { EdgeCells } from "./edge-cells.js";
import { MOTION_SIZE, type Motion } from "./motion.js";
import { MotionSystem } from "./motion-system.js";
import type { RefineSettings } from "./refine-settings.js";
import { type SeenEdges, seeEdges } from "./see-edges.js";

/** What a refinement found. */
export interface RefinedMotion {
  readonly motion: Motion;
  /** Covariance of the eight parameters, row-major. */
  readonly covariance: Float64Array;
  readonly converged: boolean;
  readonly seen: SeenEdges;
}

/** Longest step of any pixel at once, px. */
const MAX_STEP_PX = 1.5;
/** A step that does not lessen the cost is halved so often at most. */
const MOST_HALVINGS = 3;

/** Refine a motion by Gauss–Newton steps on band-passed pictures.
 *  Each group of edge pixels has a contrast of its own, of either sign, that is fitted and taken out of the
 *  derivatives: between two times of day parts grow paler, or swap light for dark. What is lessened is, summed over the
 *  groups, n/2·log(what is left unexplained ÷ what is shown): the difference alone would be least where nothing is
 *  shown. A group that fits nowhere has no pull.
 *  Method: variable projection (Golub & Pereyra 1973, doi 10.1137/0710036; DOI from memory) of a likelihood with each
 *  group's own unknown noise; priors on stretch and tilt alone. Covariance: a sandwich over groups.
 */
export function refineMotion(
  cells: EdgeCells,
  picture: Raster<"K">,
  arm: BoardArm,
  start: Motion,
  settings: RefineSettings,
): RefinedMotion {
  let motion = start;
  let converged = false;
  const system = new MotionSystem(cells, arm, settings);
  let seen = seeEdges(cells, picture, arm, motion);
  for (let round = 0; round < settings.maxRounds && !converged; round++) {
    const misfitPx = settings.misfitPx[Math.min(round, settings.misfitPx.length - 1)]!;
    system.build(seen, motion, misfitPx);
    const factor = choleskyFactor(system.hessian, MOTION_SIZE);
    if (factor === null) break;
    const step = choleskySolve(factor, MOTION_SIZE, system.score);
    const length = stepLength(step, Math.hypot(motion[0], motion[1]));
    if (!Number.isFinite(length)) break;
    let share = Math.min(1, MAX_STEP_PX / length);
    const cost = system.cost(seen, motion);
    for (let halving = 0; ; halving++) {
      const next = motion.map((value, k) => value + share * step[k]!) as unknown as Motion;
      const then = seeEdges(cells, picture, arm, next);
      if (system.cost(then, next) < cost || halving === MOST_HALVINGS) {
        motion = next;
        seen = then;
        break;
      }
      share /= 2;
    }
    const isSharp = round >= settings.misfitPx.length - 1;
    converged = isSharp && hasSettled(share * length, settings.settledPx, round === settings.maxRounds - 1);
  }
  system.build(seen, motion, settings.misfitPx[settings.misfitPx.length - 1]!);
  return { motion, covariance: system.covariance(), converged, seen };
}

/** How far the step moves a pixel at the end of the arm at most, about, px. */
function stepLength(step: Float64Array, lengthPx: number): number {
  const turned = Math.hypot(step[0]!, step[1]!) + Math.hypot(step[4]!, step[5]!);
  return turned + Math.hypot(step[2]!, step[3]!) + lengthPx * Math.hypot(step[6]!, step[7]!);
}
