// simulate: outline, copper and heat → temperature rise of the plate, steady or after a time.
// Finite volumes on square cells, no flux through the outline; shares nothing with the tool's solver.
import { isInside, type Point } from "./polygons.js";

/** The board as cells. Arrays are row-major, nx × ny; cells outside the outline take no part. */
export interface PlateGrid {
  readonly nx: number;
  readonly ny: number;
  readonly cellMm: number;
  /** Centre of the first cell, board mm. */
  readonly originMm: Point;
  readonly inside: Uint8Array;
  /** Conductivity × thickness of each cell, W/K. */
  readonly conductance: Float64Array;
}

/** What the plate loses and stores, per area. */
export interface PlateConstants {
  /** Both faces together, W/m²K. */
  readonly lossWPerM2K: number;
  readonly heatCapacityJPerM2K: number;
}

/** Cut an outline into cells.
 *  @param conductanceAt k·t in W/K at a point in board mm.
 */
export function makePlateGrid(
  outline: readonly Point[],
  cellMm: number,
  conductanceAt: (x: number, y: number) => number,
): PlateGrid {
  const xs = outline.map((p) => p[0]);
  const ys = outline.map((p) => p[1]);
  const x0 = Math.min(...xs);
  const y0 = Math.min(...ys);
  const nx = Math.max(1, Math.round((Math.max(...xs) - x0) / cellMm));
  const ny = Math.max(1, Math.round((Math.max(...ys) - y0) / cellMm));
  const originMm: Point = [x0 + cellMm / 2, y0 + cellMm / 2];
  const inside = new Uint8Array(nx * ny);
  const conductance = new Float64Array(nx * ny);
  for (let j = 0, c = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++, c++) {
      const x = originMm[0] + i * cellMm;
      const y = originMm[1] + j * cellMm;
      if (!isInside(outline, x, y)) continue;
      inside[c] = 1;
      conductance[c] = conductanceAt(x, y);
    }
  }
  return { nx, ny, cellMm, originMm, inside, conductance };
}

/** Number of cells inside the outline × area of a cell, m². */
export function plateAreaM2(grid: PlateGrid): number {
  let cells = 0;
  for (const one of grid.inside) cells += one;
  return cells * (grid.cellMm * 1e-3) ** 2;
}

/** Steady rise, K.
 *  @param heatW heat put into each cell, W.
 */
export function solveSteady(grid: PlateGrid, constants: PlateConstants, heatW: Float64Array): Float64Array {
  const system = makeSystem(grid, 1, constants.lossWPerM2K * (grid.cellMm * 1e-3) ** 2);
  const rise = new Float64Array(heatW.length);
  solve(system, heatW, rise, 1e-8);
  return rise;
}

/** Rise at several times after the heat was switched on, K, one array a time.
 *  Method: two-stage singly diagonally implicit Runge–Kutta, L-stable, second order (Alexander 1977,
 *  doi 10.1137/0714068), steps growing geometrically between the times asked for.
 *  @param timesS increasing, above 0.
 */
export function solveTransient(
  grid: PlateGrid,
  constants: PlateConstants,
  heatW: Float64Array,
  timesS: readonly number[],
): Float64Array[] {
  const areaM2 = (grid.cellMm * 1e-3) ** 2;
  const capacity = constants.heatCapacityJPerM2K * areaM2;
  const still = makeSystem(grid, 1, constants.lossWPerM2K * areaM2);
  const n = heatW.length;
  const gamma = 1 - Math.SQRT1_2;
  const rise = new Float64Array(n);
  const k1 = new Float64Array(n);
  const k2 = new Float64Array(n);
  const right = new Float64Array(n);
  const trial = new Float64Array(n);
  const results: Float64Array[] = [];
  let now = 0;
  let stepping: { dt: number; system: System } | null = null;
  for (const target of timesS) {
    for (const dt of stepsBetween(now, target)) {
      if (stepping === null || Math.abs(stepping.dt - dt) > 1e-9 * dt) {
        const system = makeSystem(grid, gamma * dt, capacity + gamma * dt * constants.lossWPerM2K * areaM2);
        stepping = { dt, system };
      }
      multiply(still, rise, right);
      for (let i = 0; i < n; i++) right[i] = heatW[i]! - right[i]!;
      solve(stepping.system, right, k1, 1e-5);
      for (let i = 0; i < n; i++) trial[i] = rise[i]! + (1 - gamma) * dt * k1[i]!;
      multiply(still, trial, right);
      for (let i = 0; i < n; i++) right[i] = heatW[i]! - right[i]!;
      solve(stepping.system, right, k2, 1e-5);
      for (let i = 0; i < n; i++) rise[i] = rise[i]! + dt * ((1 - gamma) * k1[i]! + gamma * k2[i]!);
    }
    now = target;
    results.push(rise.slice());
  }
  return results;
}

/** From rest: eight steps, each 1.7 × the one before; later: two equal steps. */
function stepsBetween(from: number, to: number): number[] {
  if (from > 0) return [(to - from) / 2, (to - from) / 2];
  const growth = 1.7;
  const count = 8;
  const first = ((to - from) * (growth - 1)) / (growth ** count - 1);
  return Array.from({ length: count }, (_, i) => first * growth ** i);
}

/** A symmetric five-point matrix with its incomplete factor. */
interface System {
  readonly nx: number;
  readonly ny: number;
  readonly inside: Uint8Array;
  /** Link to the cell on the right, and to the one below; 0 through the outline. */
  readonly east: Float64Array;
  readonly south: Float64Array;
  readonly diagonal: Float64Array;
  /** 1 ÷ pivot of the incomplete factor. */
  readonly pivot: Float64Array;
  readonly scratch: readonly [Float64Array, Float64Array, Float64Array, Float64Array];
}

function makeSystem(grid: PlateGrid, linkFactor: number, perCell: number): System {
  const { nx, ny, inside, conductance } = grid;
  const n = nx * ny;
  const east = new Float64Array(n);
  const south = new Float64Array(n);
  const diagonal = new Float64Array(n).fill(1);
  const link = (a: number, b: number): number =>
    (linkFactor * 2 * conductance[a]! * conductance[b]!) / (conductance[a]! + conductance[b]!);
  for (let j = 0, c = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++, c++) {
      if (inside[c] === 0) continue;
      if (i + 1 < nx && inside[c + 1] === 1) east[c] = link(c, c + 1);
      if (j + 1 < ny && inside[c + nx] === 1) south[c] = link(c, c + nx);
    }
  }
  for (let j = 0, c = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++, c++) {
      if (inside[c] === 0) continue;
      const west = i > 0 ? east[c - 1]! : 0;
      const north = j > 0 ? south[c - nx]! : 0;
      diagonal[c] = perCell + east[c]! + south[c]! + west + north;
    }
  }
  // Modified incomplete Cholesky without fill: the share 0.97 of the dropped fill goes to the diagonal.
  const pivot = new Float64Array(n);
  for (let j = 0, c = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++, c++) {
      let d = diagonal[c]!;
      if (i > 0) d -= east[c - 1]! * pivot[c - 1]! * (east[c - 1]! + 0.97 * south[c - 1]!);
      if (j > 0) d -= south[c - nx]! * pivot[c - nx]! * (south[c - nx]! + 0.97 * east[c - nx]!);
      pivot[c] = 1 / (d > 0.1 * diagonal[c]! ? d : diagonal[c]!);
    }
  }
  const scratch = [0, 1, 2, 3].map(() => new Float64Array(n)) as unknown as System["scratch"];
  return { nx, ny, inside, east, south, diagonal, pivot, scratch };
}

function multiply(system: System, x: Float64Array, out: Float64Array): void {
  const { nx, east, south, diagonal, inside } = system;
  const n = x.length;
  for (let c = 0; c < n; c++) {
    if (inside[c] === 0) {
      out[c] = 0;
      continue;
    }
    let sum =
      diagonal[c]! * x[c]! -
      east[c]! * (c + 1 < n ? x[c + 1]! : 0) -
      south[c]! * (c + nx < n ? x[c + nx]! : 0);
    if (c > 0) sum -= east[c - 1]! * x[c - 1]!;
    if (c >= nx) sum -= south[c - nx]! * x[c - nx]!;
    out[c] = sum;
  }
}

function precondition(system: System, r: Float64Array, z: Float64Array): void {
  const { nx, east, south, pivot } = system;
  const n = r.length;
  for (let c = 0; c < n; c++) {
    let sum = r[c]!;
    if (c > 0) sum += east[c - 1]! * z[c - 1]!;
    if (c >= nx) sum += south[c - nx]! * z[c - nx]!;
    z[c] = sum * pivot[c]!;
  }
  for (let c = n - 1; c >= 0; c--) {
    let sum = 0;
    if (c + 1 < n) sum += east[c]! * z[c + 1]!;
    if (c + nx < n) sum += south[c]! * z[c + nx]!;
    z[c] = z[c]! + sum * pivot[c]!;
  }
}

/** Preconditioned conjugate gradients from the values already in `x`. */
function solve(system: System, right: Float64Array, x: Float64Array, tolerance: number): void {
  const [r, z, p, q] = system.scratch;
  const n = right.length;
  multiply(system, x, q);
  let size = 0;
  let error = 0;
  for (let i = 0; i < n; i++) {
    r[i] = right[i]! - q[i]!;
    size += right[i]! * right[i]!;
    error += r[i]! * r[i]!;
  }
  if (size === 0) {
    x.fill(0);
    return;
  }
  const limit = tolerance * tolerance * size;
  let rho = 0;
  for (let step = 0; step < 2000 && error > limit; step++) {
    precondition(system, r, z);
    let rhoNew = 0;
    for (let i = 0; i < n; i++) rhoNew += r[i]! * z[i]!;
    const beta = step === 0 ? 0 : rhoNew / rho;
    rho = rhoNew;
    for (let i = 0; i < n; i++) p[i] = z[i]! + beta * p[i]!;
    multiply(system, p, q);
    let curve = 0;
    for (let i = 0; i < n; i++) curve += p[i]! * q[i]!;
    const alpha = rho / curve;
    error = 0;
    for (let i = 0; i < n; i++) {
      x[i] = x[i]! + alpha * p[i]!;
      const left = r[i]! - alpha * q[i]!;
      r[i] = left;
      error += left * left;
    }
  }
  if (error > limit) throw new Error("the plate's equations did not converge");
}
