// simulate: cells with links between them → their five-point matrix, and the answer to it.
import type { PlateGrid } from "./plate.js";

/** Pad a vector of cells; zeros for null.
 *  Vectors of the solver carry one empty row above and below the board, so that no loop asks where the board ends.
 */
export function padded(grid: PlateGrid, values: Float64Array | null): Float64Array {
  const out = new Float64Array(grid.nx * (grid.ny + 2));
  if (values !== null) out.set(values, grid.nx);
  return out;
}

/** Take the padding off again. */
export function cut(grid: PlateGrid, values: Float64Array): Float64Array {
  return values.slice(grid.nx, values.length - grid.nx);
}

/** A symmetric five-point matrix with its incomplete factor; arrays padded as its vectors are. */
export interface System {
  readonly nx: number;
  /** First cell and the one after the last. */
  readonly from: number;
  readonly to: number;
  /** Link to the cell on the right, and to the one below; 0 through the outline. */
  readonly east: Float64Array;
  readonly south: Float64Array;
  readonly diagonal: Float64Array;
  /** 1 ÷ pivot of the incomplete factor. */
  readonly pivot: Float64Array;
  readonly scratch: readonly [Float64Array, Float64Array, Float64Array, Float64Array];
}

/** Build the matrix of links × `linkFactor` plus, for each cell, `capacity` + `loss` × its share. */
export function makeSystem(grid: PlateGrid, linkFactor: number, capacity: number, loss: number): System {
  const { nx, ny, inside, conductance, lossShare } = grid;
  const east = padded(grid, null);
  const south = padded(grid, null);
  const diagonal = padded(grid, null).fill(1);
  const link = (a: number, b: number): number =>
    (linkFactor * 2 * conductance[a]! * conductance[b]!) / (conductance[a]! + conductance[b]!);
  for (let j = 0, c = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++, c++) {
      if (inside[c] === 0) continue;
      if (i + 1 < nx && inside[c + 1] === 1) east[c + nx] = link(c, c + 1);
      if (j + 1 < ny && inside[c + nx] === 1) south[c + nx] = link(c, c + nx);
    }
  }
  const from = nx;
  const to = nx * (ny + 1);
  for (let c = from; c < to; c++) {
    if (inside[c - nx] === 0) continue;
    const own = capacity + loss * (lossShare?.[c - nx] ?? 1);
    diagonal[c] = own + east[c]! + south[c]! + east[c - 1]! + south[c - nx]!;
  }
  // Modified incomplete Cholesky without fill: the share 0.97 of the dropped fill goes to the diagonal.
  const pivot = padded(grid, null);
  for (let c = from; c < to; c++) {
    let d = diagonal[c]!;
    d -= east[c - 1]! * pivot[c - 1]! * (east[c - 1]! + 0.97 * south[c - 1]!);
    d -= south[c - nx]! * pivot[c - nx]! * (south[c - nx]! + 0.97 * east[c - nx]!);
    pivot[c] = 1 / (d > 0.1 * diagonal[c]! ? d : diagonal[c]!);
  }
  const scratch = [0, 1, 2, 3].map(() => padded(grid, null)) as unknown as System["scratch"];
  return { nx, from, to, east, south, diagonal, pivot, scratch };
}

/** out = A·x.
 *  @returns x·A·x
 */
export function multiply(system: System, x: Float64Array, out: Float64Array): number {
  const { nx, from, to, east, south, diagonal } = system;
  let sum = 0;
  for (let c = from; c < to; c++) {
    const value =
      diagonal[c]! * x[c]! -
      east[c]! * x[c + 1]! -
      south[c]! * x[c + nx]! -
      east[c - 1]! * x[c - 1]! -
      south[c - nx]! * x[c - nx]!;
    out[c] = value;
    sum += x[c]! * value;
  }
  return sum;
}

/** z = the incomplete factor's answer to r.
 *  @returns r·z
 */
function precondition(system: System, r: Float64Array, z: Float64Array): number {
  const { nx, from, to, east, south, pivot } = system;
  for (let c = from; c < to; c++) {
    z[c] = (r[c]! + east[c - 1]! * z[c - 1]! + south[c - nx]! * z[c - nx]!) * pivot[c]!;
  }
  let sum = 0;
  for (let c = to - 1; c >= from; c--) {
    const value = z[c]! + (east[c]! * z[c + 1]! + south[c]! * z[c + nx]!) * pivot[c]!;
    z[c] = value;
    sum += r[c]! * value;
  }
  return sum;
}

/** Preconditioned conjugate gradients from the values already in `x`. */
export function solve(system: System, right: Float64Array, x: Float64Array, tolerance: number): void {
  const [r, z, p, q] = system.scratch;
  const { from, to } = system;
  multiply(system, x, q);
  let size = 0;
  let error = 0;
  for (let i = from; i < to; i++) {
    const left = right[i]! - q[i]!;
    r[i] = left;
    size += right[i]! * right[i]!;
    error += left * left;
  }
  if (size === 0) {
    x.fill(0);
    return;
  }
  const limit = tolerance * tolerance * size;
  let rho = 0;
  for (let step = 0; step < 2000 && error > limit; step++) {
    const rhoNew = precondition(system, r, z);
    const beta = step === 0 ? 0 : rhoNew / rho;
    rho = rhoNew;
    for (let i = from; i < to; i++) p[i] = z[i]! + beta * p[i]!;
    const alpha = rho / multiply(system, p, q);
    error = 0;
    for (let i = from; i < to; i++) {
      x[i] = x[i]! + alpha * p[i]!;
      const left = r[i]! - alpha * q[i]!;
      r[i] = left;
      error += left * left;
    }
  }
  if (error > limit) throw new Error("the plate's equations did not converge");
}
