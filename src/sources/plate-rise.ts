// sources: the cells that a part heats → the rise that one watt makes on the plate.
import { raiseTo } from "../core/raise-to.js";
import type { HeatFootprint } from "./heat-footprint.js";
import type { PlateGrid } from "./plate-grid.js";
import type { PlateSolver } from "./plate-solver.js";

/** Rise on the plate for one watt in a footprint, K per unknown.
 *  Steady: the plate equation with its losses. Rising: constant power since power-on, by backward steps in time, losses
 *  left out, or taken along as `keep`.
 *  @param solver of the state's length: for a rising plate that of one step, √(length² ÷ steps in the whole time).
 *  @param perWatt K·m² per W, of all steps together: 1 ÷ loss where steady, time ÷ heat capacity where rising.
 *  @param weights heat of each step, the first one first, as shares of one scale.
 *  @param keep share of what is there that each step leaves, beside the spreading.
 */
export function plateRise(
  grid: PlateGrid,
  solver: PlateSolver,
  footprint: HeatFootprint,
  perWatt: number,
  weights: readonly number[],
  keep = 1,
): Float64Array {
  const heat = new Float64Array(grid.cellOf.length);
  const added = stepHeat(grid, footprint, perWatt, weights, keep);
  let rise: Float64Array | null = null;
  for (const weight of weights) {
    if (rise !== null) for (let i = 0; i < heat.length; i++) heat[i] = keep * rise[i]!;
    footprint.unknowns.forEach((unknown, k) => {
      heat[unknown]! += weight * added[k]!;
    });
    rise = solver.solve(heat);
  }
  return rise!;
}

/** What a step of weight 1 adds on the unknowns of a footprint; parameters as those of `plateRise`. */
export function stepHeat(
  grid: PlateGrid,
  footprint: HeatFootprint,
  perWatt: number,
  weights: readonly number[],
  keep: number,
): Float64Array {
  const cellM2 = (grid.stepMm * 1e-3) ** 2;
  // What all steps leave of their weights: the mean comes out exactly, however coarse the steps.
  let left = 0;
  for (let step = 1; step <= weights.length; step++)
    left += weights[weights.length - step]! * raiseTo(keep, step);
  return footprint.shares.map((share) => ((share / cellM2) * perWatt * keep) / left);
}
