// sources: heats on one plate → what the plate makes of each, four at a time.
import type { Address } from "../numeric/kernel-exports.js";
import { type Kernels, keptKernels, newOwner } from "../numeric/kernels.js";
import type { PlateGrid } from "./plate-grid.js";
import { factorPlate, type PlateSolver, plateMatrix } from "./plate-solver.js";

/** Solved together, so that the factor is read once. */
export const PLATE_BATCH = 4;

/** A plate that is solved for many heats, four at a time where WebAssembly may be used: the same to the last bit as one by one. */
export class PlateBatch {
  private readonly owner = newOwner();
  private readonly factors = new Map<number, Address>();
  private readonly solvers = new Map<number, PlateSolver>();
  private column: Address = 0;
  private heats: Address = 0;

  /** @param kind of kernels to keep, see `keptKernels`. */
  constructor(
    private readonly kind: string,
    private readonly grid: PlateGrid,
  ) {}

  /** Solve as `PlateSolver` does.
   *  @param stepMm length of the spreading, mm.
   *  @param heats at most `PLATE_BATCH`, each over the grid's unknowns; not modified.
   */
  solve(stepMm: number, heats: readonly Float64Array[]): Float64Array[] {
    const kernels = keptKernels(this.kind, this.owner, (fresh) => this.lay(fresh));
    if (kernels === null) return heats.map((heat) => this.solver(stepMm).solve(heat));
    const n = this.grid.cellOf.length;
    const factor = this.factor(kernels, stepMm);
    const numbers = kernels.doubles(this.heats, PLATE_BATCH * n).fill(0);
    for (const [r, heat] of heats.entries()) {
      for (let i = 0; i < n; i++) numbers[PLATE_BATCH * i + r] = heat[i]!;
    }
    kernels.run.solveBand(factor, n, this.grid.bandwidth, this.heats);
    return heats.map((_, r) => {
      const rise = new Float64Array(n);
      for (let i = 0; i < n; i++) rise[i] = numbers[PLATE_BATCH * i + r]!;
      return rise;
    });
  }

  private lay(kernels: Kernels): void {
    this.factors.clear();
    this.column = kernels.take(16 * this.grid.bandwidth);
    this.heats = kernels.take(8 * PLATE_BATCH * this.grid.cellOf.length);
  }

  private solver(stepMm: number): PlateSolver {
    let solver = this.solvers.get(stepMm);
    if (solver === undefined) {
      solver = factorPlate(this.grid, stepMm);
      this.solvers.set(stepMm, solver);
    }
    return solver;
  }

  private factor(kernels: Kernels, stepMm: number): Address {
    let at = this.factors.get(stepMm);
    if (at === undefined) {
      at = putFactor(kernels, this.grid, stepMm, this.column);
      this.factors.set(stepMm, at);
    }
    return at;
  }
}

/** Factor a plate's matrix in the kernels' memory.
 *  @param column room for 16 bytes × the band.
 */
export function putFactor(kernels: Kernels, grid: PlateGrid, stepMm: number, column: Address): Address {
  const { cellOf, bandwidth } = grid;
  const numbers = cellOf.length * (bandwidth + 1);
  const at = kernels.take(8 * numbers);
  plateMatrix(grid, stepMm, kernels.doubles(at, numbers).fill(0));
  kernels.run.factorBand(at, cellOf.length, bandwidth, column);
  return at;
}
