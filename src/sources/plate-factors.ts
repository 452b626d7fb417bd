// sources: a plate and a length of its spreading → the factor of its matrix, made once, plain or in the kernels'
// memory.
import type { Address } from "../numeric/kernel-exports.js";
import type { Kernels } from "../numeric/kernels.js";
import type { PlateGrid } from "./plate-grid.js";
import { factorPlate, type PlateSolver, plateMatrix } from "./plate-solver.js";

/** The factors of one plate that were asked for, by the length of the spreading, mm. */
export class PlateFactors {
  private readonly solvers = new Map<number, PlateSolver>();
  private readonly addresses = new Map<number, Address>();
  private column: Address = 0;

  constructor(private readonly grid: PlateGrid) {}

  /** Begin anew in kernels that hold nothing of this plate. */
  lay(kernels: Kernels): void {
    this.addresses.clear();
    // The kernel's room for a column: 16 bytes × the band.
    this.column = kernels.take(16 * this.grid.bandwidth);
  }

  /** Factor the matrix by the plain code. */
  solver(stepMm: number): PlateSolver {
    let solver = this.solvers.get(stepMm);
    if (solver === undefined) {
      solver = factorPlate(this.grid, stepMm);
      this.solvers.set(stepMm, solver);
    }
    return solver;
  }

  /** Factor the matrix in the kernels that were laid last. @returns where the factor lies. */
  at(kernels: Kernels, stepMm: number): Address {
    let at = this.addresses.get(stepMm);
    if (at === undefined) {
      const { cellOf, bandwidth } = this.grid;
      const numbers = cellOf.length * (bandwidth + 1);
      at = kernels.take(8 * numbers);
      plateMatrix(this.grid, stepMm, kernels.doubles(at, numbers).fill(0));
      kernels.run.factorBand(at, cellOf.length, bandwidth, this.column);
      this.addresses.set(stepMm, at);
    }
    return at;
  }
}
