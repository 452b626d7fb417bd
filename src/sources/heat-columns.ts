// sources: a part on the plate → the rise that one watt in it makes, and what its body shows to the camera.
import type { Region } from "../board/board-schema.js";
import { boundsOf, type Polygon, pointInPolygon } from "../board/polygon.js";
import { raiseTo } from "../core/raise-to.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { type Column, windowColumn } from "./column.js";
import { coverageWindow } from "./coverage-window.js";
import type { Picture } from "./picture.js";
import type { PlateGrid } from "./plate-grid.js";
import type { PlateSolver } from "./plate-solver.js";

/** Share of a part's watt that falls on each unknown of the plate; sums to 1. */
export interface HeatFootprint {
  readonly unknowns: Int32Array;
  readonly shares: Float64Array;
}

/** Points per side of the lattice over a part's bounding box. */
const LATTICE = 12;

/** Spread one watt evenly over a polygon's area, each point shared between the four cells around it.
 *  A part smaller than a cell keeps its place to a fraction of the cell.
 *  @returns null where no point of the polygon lies over the board.
 */
export function heatFootprint(grid: PlateGrid, polygon: Polygon): HeatFootprint | null {
  const { minX, minY, maxX, maxY } = boundsOf(polygon);
  const shares = new Map<number, number>();
  let total = 0;
  for (let v = 0; v < LATTICE; v++) {
    for (let u = 0; u < LATTICE; u++) {
      const x = minX + ((u + 0.5) / LATTICE) * (maxX - minX);
      const y = minY + ((v + 0.5) / LATTICE) * (maxY - minY);
      if (!pointInPolygon(polygon, [x, y])) continue;
      total += addPoint(grid, x, y, shares);
    }
  }
  if (!(total > 0)) return null;
  const unknowns = Int32Array.from(shares.keys());
  return { unknowns, shares: Float64Array.from(shares.values(), (s) => s / total) };
}

function addPoint(grid: PlateGrid, x: number, y: number, shares: Map<number, number>): number {
  const u = (x - grid.x0Mm) / grid.stepMm;
  const v = (y - grid.y0Mm) / grid.stepMm;
  // Beyond the outermost cells by more than half a step there is no board.
  if (u < -0.51 || v < -0.51 || u > grid.columns - 0.49 || v > grid.rows - 0.49) return 0;
  const c0 = Math.floor(u);
  const r0 = Math.floor(v);
  let given = 0;
  for (let k = 0; k < 4; k++) {
    const c = Math.min(grid.columns - 1, Math.max(0, c0 + (k & 1)));
    const r = Math.min(grid.rows - 1, Math.max(0, r0 + (k >> 1)));
    const unknown = grid.unknownOf[r * grid.columns + c]!;
    const weight = ((k & 1) === 1 ? u - c0 : 1 - (u - c0)) * (k >> 1 === 1 ? v - r0 : 1 - (v - r0));
    if (unknown < 0 || !(weight > 0)) continue;
    shares.set(unknown, (shares.get(unknown) ?? 0) + weight);
    given += weight;
  }
  return given;
}

/** Rise on the plate for one watt in a footprint, K per unknown.
 *  Steady: the plate equation with its losses. Rising: constant power since power-on, by backward steps in time, losses left
 *  out, or taken along as `keep`.
 *  @param solver of the state's length: for a rising plate that of one step, √(length² ÷ steps).
 *  @param perWatt K·m² per W, of all steps together: 1 ÷ loss where steady, time ÷ heat capacity where rising.
 *  @param keep share of what is there that each step leaves, beside the spreading.
 */
export function plateRise(
  grid: PlateGrid,
  solver: PlateSolver,
  footprint: HeatFootprint,
  perWatt: number,
  steps: number,
  keep = 1,
): Float64Array {
  const heat = new Float64Array(grid.cellOf.length);
  const added = stepHeat(grid, footprint, perWatt, steps, keep);
  let rise: Float64Array | null = null;
  for (let step = 0; step < steps; step++) {
    if (rise !== null) for (let i = 0; i < heat.length; i++) heat[i] = keep * rise[i]!;
    footprint.unknowns.forEach((unknown, k) => {
      heat[unknown]! += added[k]!;
    });
    rise = solver.solve(heat);
  }
  return rise!;
}

/** What each step adds on the unknowns of a footprint; parameters as those of `plateRise`. */
export function stepHeat(
  grid: PlateGrid,
  footprint: HeatFootprint,
  perWatt: number,
  steps: number,
  keep: number,
): Float64Array {
  const cellM2 = (grid.stepMm * 1e-3) ** 2;
  // What all steps leave of one unit each: the mean comes out exactly, however coarse the steps.
  let left = 0;
  for (let step = 1; step <= steps; step++) left += raiseTo(keep, step);
  return footprint.shares.map((share) => ((share / cellM2) * perWatt * keep) / left);
}

/** What a part shows in a picture if it is 1 K warmer than the plate under it: its body, K per pixel.
 *  Null where the camera looks at the other side, or the part is out of the picture.
 */
export function bodyColumn(picture: Picture, region: Pick<Region, "side" | "polygon">): Column | null {
  const { view, seen, offset } = picture;
  if (region.side !== view.side) return null;
  const { width, height, emissivity, opticsSigmaPx } = seen;
  const window = coverageWindow(view, region.polygon, width, height, 4 * opticsSigmaPx + 1);
  if (window === null) return null;
  const values = Float32Array.from(window.coverage, (share, k) => {
    const y = window.y0 + Math.floor(k / window.width);
    return share * emissivity[y * width + window.x0 + (k % window.width)]!;
  });
  return windowColumn(
    window,
    width,
    offset,
    gaussianFilter(values, window.width, window.height, opticsSigmaPx),
  );
}
