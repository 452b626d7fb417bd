// sources: heat per cell → rise per cell, on a thin plate with losses and insulated edges.
import { neighboursOf, type PlateGrid } from "./plate-grid.js";
import { factorBand, solveBand } from "./solve-band.js";

/** A plate of one cooling length, ready to be solved for any heat. */
export interface PlateSolver {
  readonly coolingLengthMm: number;
  /** Heat per cell → rise per cell, both over the grid's unknowns. Heat is divided by the loss, so that both are in
   *  K: with `q/h` in, the steady rise comes out. The operator is symmetric: it is its own adjoint. */
  readonly solve: (heatOverLoss: Float64Array) => Float64Array;
}

/** Prepare the steady plate equation θ − L²∇²θ = q/h on the board's cells.
 *  No heat flows through the outline; that is what makes the rise on a small board several times the
 *  infinite plate's.
 *  Method: five-point differences; banded Cholesky factor, computed once for every cooling length.
 *  @param coolingLengthMm L = √(conductance ÷ loss), mm; > 0.
 */
export function factorPlate(grid: PlateGrid, coolingLengthMm: number): PlateSolver {
  const n = grid.cellOf.length;
  const band = grid.bandwidth;
  const stride = band + 1;
  const coupling = (coolingLengthMm / grid.stepMm) ** 2;
  // factor[i * stride + d] holds the element (i, i − band + d) of the lower triangle.
  const factor = new Float64Array(n * stride);
  for (let i = 0; i < n; i++) {
    const neighbours = neighboursOf(grid, i);
    factor[i * stride + band] = 1 + coupling * neighbours.length;
    for (const j of neighbours) if (j < i) factor[i * stride + band - (i - j)] = -coupling;
  }
  factorBand(factor, n, band);
  return {
    coolingLengthMm,
    solve: (heatOverLoss) => solveBand(factor, n, band, heatOverLoss),
  };
}
