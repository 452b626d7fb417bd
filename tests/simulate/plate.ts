// simulate: outline, copper and heat → temperature rise of the plate, steady or after a time.
// Finite volumes on square cells, no flux through the outline; shares nothing with the tool's solver.
import { cut, makeSystem, multiply, padded, type System, solve } from "./plate-system.js";
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
  /** Loss of each cell ÷ the plate's mean loss; 1 everywhere where there is none. */
  readonly lossShare?: Float64Array;
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
  const system = makeSystem(grid, 1, 0, constants.lossWPerM2K * (grid.cellMm * 1e-3) ** 2);
  const rise = padded(grid, null);
  solve(system, padded(grid, heatW), rise, 1e-8);
  return cut(grid, rise);
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
  const loss = constants.lossWPerM2K * areaM2;
  const still = makeSystem(grid, 1, 0, loss);
  const gamma = 1 - Math.SQRT1_2;
  const heat = padded(grid, heatW);
  const n = heat.length;
  const rise = padded(grid, null);
  const k1 = padded(grid, null);
  const k2 = padded(grid, null);
  const right = padded(grid, null);
  const trial = padded(grid, null);
  const results: Float64Array[] = [];
  let now = 0;
  let stepping: { dt: number; system: System } | null = null;
  for (const target of timesS) {
    for (const dt of stepsBetween(now, target)) {
      if (stepping === null || Math.abs(stepping.dt - dt) > 1e-9 * dt) {
        stepping = { dt, system: makeSystem(grid, gamma * dt, capacity, gamma * dt * loss) };
      }
      multiply(still, rise, right);
      for (let i = 0; i < n; i++) right[i] = heat[i]! - right[i]!;
      solve(stepping.system, right, k1, 1e-5);
      for (let i = 0; i < n; i++) trial[i] = rise[i]! + (1 - gamma) * dt * k1[i]!;
      multiply(still, trial, right);
      for (let i = 0; i < n; i++) right[i] = heat[i]! - right[i]!;
      solve(stepping.system, right, k2, 1e-5);
      for (let i = 0; i < n; i++) rise[i] = rise[i]! + dt * ((1 - gamma) * k1[i]! + gamma * k2[i]!);
    }
    now = target;
    results.push(cut(grid, rise));
  }
  return results;
}

/** From rest: eight steps, each 1.7 × the one before; later two equal steps, and one once the interval is short against
 *  the time since the start.
 */
function stepsBetween(from: number, to: number): number[] {
  if (to - from < 0.34 * from) return [to - from];
  if (from > 0) return [(to - from) / 2, (to - from) / 2];
  const growth = 1.7;
  const count = 8;
  const first = ((to - from) * (growth - 1)) / (growth ** count - 1);
  return Array.from({ length: count }, (_, i) => first * growth ** i);
}
