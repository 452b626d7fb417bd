// sources: heat per cell → rise per cell, on a thin plate with losses and insulated edges.
import type { PlateGrid } from "./plate-grid.js";
import { factorBand, solveBand } from "./solve-band.js";

/** A plate of one cooling length, ready to be solved for any heat. */
export interface PlateSolver {
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
  const factor = plateMatrix(grid, coolingLengthMm);
  factorBand(factor, n, band);
  return { solve: (heatOverLoss) => solveBand(factor, n, band, heatOverLoss) };
}

/** The plate equation's band matrix, as `factorBand` takes it.
 *  @param matrix where it goes; zeros.
 */
export function plateMatrix(
  grid: PlateGrid,
  coolingLengthMm: number,
  matrix: Float64Array = new Float64Array(grid.cellOf.length * (grid.bandwidth + 1)),
): Float64Array {
  const { cellOf, columns, unknownOf, bandwidth: band } = grid;
  const coupling = (coolingLengthMm / grid.stepMm) ** 2;
  const couple = (i: number, cell: number): number => {
    const j = unknownOf[cell]!;
    if (j < 0) return 0;
    // Element i * (band + 1) + band − (i − j) is (i, j) of the lower triangle.
    if (j < i) matrix[i * (band + 1) + band - (i - j)] = -coupling;
    return 1;
  };
  for (let i = 0; i < cellOf.length; i++) {
    const cell = cellOf[i]!;
    const column = cell % columns;
    let neighbours = 0;
    if (column > 0) neighbours += couple(i, cell - 1);
    if (column + 1 < columns) neighbours += couple(i, cell + 1);
    if (cell >= columns) neighbours += couple(i, cell - columns);
    if (cell + columns < unknownOf.length) neighbours += couple(i, cell + columns);
    matrix[i * (band + 1) + band] = 1 + coupling * neighbours;
  }
  return matrix;
}
