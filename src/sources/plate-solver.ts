// sources: heat per cell → rise per cell, on a thin plate with losses and insulated edges.
import { neighboursOf, type PlateGrid } from "./plate-grid.js";

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

function factorBand(a: Float64Array, n: number, band: number): void {
  const stride = band + 1;
  for (let i = 0; i < n; i++) {
    const rowI = i * stride + band - i;
    const first = Math.max(0, i - band);
    for (let j = first; j <= i; j++) {
      const rowJ = j * stride + band - j;
      let sum = a[rowI + j]!;
      for (let k = Math.max(first, j - band); k < j; k++) sum -= a[rowI + k]! * a[rowJ + k]!;
      a[rowI + j] = i === j ? Math.sqrt(sum) : sum / a[rowJ + j]!;
    }
  }
}

function solveBand(a: Float64Array, n: number, band: number, b: Float64Array): Float64Array {
  const stride = band + 1;
  const x = Float64Array.from(b);
  for (let i = 0; i < n; i++) {
    const row = i * stride + band - i;
    let sum = x[i]!;
    for (let k = Math.max(0, i - band); k < i; k++) sum -= a[row + k]! * x[k]!;
    x[i] = sum / a[row + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    const row = i * stride + band - i;
    const value = x[i]! / a[row + i]!;
    x[i] = value;
    for (let k = Math.max(0, i - band); k < i; k++) x[k]! -= a[row + k]! * value;
  }
  return x;
}
