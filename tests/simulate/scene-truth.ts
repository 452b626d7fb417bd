// simulate: a plan and what came of it → the parts of the truth that the scores need.
import type { ScenePlan } from "./build-scene.js";
import { applyTo } from "./camera.js";
import type { Chosen } from "./choose-sources.js";
import { bodyRiseK } from "./heat.js";
import type { PlateGrid } from "./plate.js";
import type { Point } from "./polygons.js";
import type { Pose } from "./render.js";
import type { TrueSource } from "./scene.js";

/** One part that heats, as it truly is and as the baseline frame has it. */
export function trueSource(plan: ScenePlan, one: Chosen, watts: number, mm: Point): TrueSource {
  const { boardToFrame } = plan.camera;
  const onsetS = one.onsetS ?? 0;
  const lastS = plan.timesS[plan.timesS.length - 1]!;
  return {
    ref: one.part.ref,
    side: one.part.side,
    fault: one.fault,
    visible: one.part.side === plan.side,
    watts,
    mm,
    px: applyTo(boardToFrame, mm[0], mm[1]),
    bodyRiseK: bodyRiseK(one.part, watts, Math.max(0, lastS - onsetS)),
    polygonPx: one.part.polygon.map(([x, y]) => applyTo(boardToFrame, x, y)),
    onsetS,
    listed: !(plan.telling?.missing.has(one.part.ref) ?? false),
  };
}

/** Mean of k·t over the board, W/K. */
export function meanConductance(grid: PlateGrid): number {
  let sum = 0;
  let cells = 0;
  for (let i = 0; i < grid.inside.length; i++) {
    if (grid.inside[i] === 0) continue;
    sum += grid.conductance[i]!;
    cells++;
  }
  return sum / cells;
}

/** A pixel belongs to the board if its middle sample does. */
export function boardMask(pose: Pose): Uint8Array {
  const { width, height, fine, boardCover } = pose;
  const mask = new Uint8Array(width * height);
  const middle = Math.floor(fine / 2);
  for (let j = 0; j < height; j++) {
    for (let i = 0; i < width; i++) {
      mask[j * width + i] =
        boardCover[(j * fine + middle) * width * fine + i * fine + middle]! >= 0.5 ? 1 : 0;
    }
  }
  return mask;
}
