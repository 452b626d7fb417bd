// sources: heats on one plate → what the plate makes of each, four at a time.
import type { Address } from "../numeric/kernel-exports.js";
import { type Kernels, keptKernels, newOwner } from "../numeric/kernels.js";
import { PlateFactors } from "./plate-factors.js";
import type { PlateGrid } from "./plate-grid.js";

/** Solved together, so that the factor is read once. */
export const PLATE_BATCH = 4;

/** A plate that is solved for many heats, four at a time where WebAssembly may be used: the same to the last bit as one
 *  by one. */
export class PlateBatch {
  private readonly owner = newOwner();
  private readonly factors: PlateFactors;
  private heats: Address = 0;

  /** @param kind of kernels to keep, see `keptKernels`. */
  constructor(
    private readonly kind: string,
    private readonly grid: PlateGrid,
  ) {
    this.factors = new PlateFactors(grid);
  }

  /** Solve as `PlateSolver` does.
   *  @param stepMm length of the spreading, mm.
   *  @param heats at most `PLATE_BATCH`, each over the grid's unknowns; not modified.
   */
  solve(stepMm: number, heats: readonly Float64Array[]): Float64Array[] {
    const kernels = keptKernels(this.kind, this.owner, (fresh) => this.lay(fresh));
    if (kernels === null) return heats.map((heat) => this.factors.solver(stepMm).solve(heat));
    const n = this.grid.cellOf.length;
    const factor = this.factors.at(kernels, stepMm);
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
    this.factors.lay(kernels);
    this.heats = kernels.take(8 * PLATE_BATCH * this.grid.cellOf.length);
  }
}
