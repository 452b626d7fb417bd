// sources: heat on a plate in some state, and fields of its copper → what the pictures show of each field, to first order.
import type { Polygon } from "../board/polygon.js";
import type { Column } from "./column.js";
import { type HeatFootprint, heatFootprint, stepHeat } from "./heat-columns.js";
import type { Picture } from "./picture.js";
import type { PlateSteps } from "./plate-columns.js";
import { makePlateGrid, type PlateGrid } from "./plate-grid.js";
import { factorPlate, type PlateSolver } from "./plate-solver.js";

/** What copper changes is smooth but close to the source, where the fit trusts the pixels least: somewhat wider cells will do. */
const GRID = Object.freeze({ shortSideCells: 36, minStepMm: 0.7 });

/** One that heats, as the coarse plate sees it. */
interface CoarseHeat {
  readonly footprint: HeatFootprint;
  readonly powerW: number;
}

/** A coarser plate of the same outline, which shows what uneven copper changes. */
export class CopperColumns {
  readonly grid: PlateGrid;
  private readonly seen: readonly Pixels[];
  private readonly solvers = new Map<number, PlateSolver>();

  constructor(
    outline: Polygon,
    pictures: readonly Picture[],
    /** All pixels on the board, as the columns of the plate have them. */
    private readonly at: Int32Array,
  ) {
    this.grid = makePlateGrid(outline, GRID);
    this.seen = pictures.map((picture) => lookAt(this.grid, picture));
  }

  /** See `heatFootprint`. */
  footprint(polygon: Polygon): HeatFootprint | null {
    return heatFootprint(this.grid, polygon);
  }

  /** Where the conductance is greater by the share φ, what flows is greater by φ·∇θ: the rise changes by what the plate makes of
   *  the sources k·∇·(φ∇θ), step by step as the rise itself. Their sum over the board is 0, whatever φ.
   *  @param fields one number for each unknown. @param way by which the plate comes to its state.
   *  @returns K per pixel on the board and unit of each field.
   */
  columns(fields: readonly Float64Array[], heats: readonly CoarseHeat[], way: PlateSteps): Column[] {
    const { steps, keep, stepMm } = way;
    const n = this.grid.cellOf.length;
    let solver = this.solvers.get(stepMm);
    if (solver === undefined) {
      solver = factorPlate(this.grid, stepMm);
      this.solvers.set(stepMm, solver);
    }
    const added = new Float64Array(n);
    for (const { footprint, powerW } of heats) {
      const shares = stepHeat(this.grid, footprint, way.perWatt, steps, keep);
      footprint.unknowns.forEach((unknown, k) => {
        added[unknown]! += powerW * shares[k]!;
      });
    }
    const rises: Float64Array[] = [];
    for (let step = 0; step < steps; step++) {
      const before = rises.at(-1);
      rises.push(
        solver.solve(before === undefined ? added : added.map((heat, i) => heat + keep * before[i]!)),
      );
    }
    const coupling = (stepMm / this.grid.stepMm) ** 2;
    return fields.map((field) => {
      let change: Float64Array | null = null;
      for (const rise of rises) {
        const heat = change === null ? new Float64Array(n) : change.map((value) => keep * value);
        addDivergence(this.grid, field, rise, coupling, heat);
        change = solver!.solve(heat);
      }
      return { at: this.at, values: this.show(change!), wide: true };
    });
  }

  private show(change: Float64Array): Float32Array {
    const values = new Float32Array(this.at.length);
    let k = 0;
    for (const { cells, weights } of this.seen) {
      for (let p = 0; p < cells.length; p += 4, k++) {
        let sum = 0;
        for (let e = p; e < p + 4; e++) sum += weights[e]! * change[cells[e]!]!;
        values[k] = sum;
      }
    }
    return values;
  }
}

/** Four unknowns for each pixel on the board, and their weights: emissivity as the optics show it is in them. */
interface Pixels {
  readonly cells: Int32Array;
  readonly weights: Float32Array;
}

function lookAt({ x0Mm, y0Mm, stepMm, columns, rows, unknownOf }: PlateGrid, { seen }: Picture): Pixels {
  const { pixels, placesMm, shown } = seen;
  const cells = new Int32Array(4 * pixels.length);
  const weights = new Float32Array(4 * pixels.length);
  for (let p = 0; p < pixels.length; p++) {
    const u = (placesMm[2 * p]! - x0Mm) / stepMm;
    const v = (placesMm[2 * p + 1]! - y0Mm) / stepMm;
    const [c0, r0] = [Math.floor(u), Math.floor(v)];
    let sum = 0;
    for (let k = 0; k < 4; k++) {
      const column = Math.min(columns - 1, Math.max(0, c0 + (k & 1)));
      const row = Math.min(rows - 1, Math.max(0, r0 + (k >> 1)));
      const unknown = unknownOf[row * columns + column]!;
      if (unknown < 0) continue;
      const along = (k & 1) === 1 ? u - c0 : 1 - (u - c0);
      const weight = Math.max(0, along * (k >> 1 === 1 ? v - r0 : 1 - (v - r0)));
      cells[4 * p + k] = unknown;
      weights[4 * p + k] = weight;
      sum += weight;
    }
    for (let k = 4 * p; sum > 0 && k < 4 * p + 4; k++) weights[k]! *= shown[pixels[p]!]! / sum;
  }
  return { cells, weights };
}

/** Add coupling · Σ over neighbours of the field between two cells times the step of the rise. */
function addDivergence(
  { cellOf, columns, unknownOf }: PlateGrid,
  field: Float64Array,
  rise: Float64Array,
  coupling: number,
  out: Float64Array,
): void {
  for (let i = 0; i < cellOf.length; i++) {
    const cell = cellOf[i]!;
    // Each pair once: with the cell to the right and with the one below.
    const right = (cell + 1) % columns === 0 ? -1 : unknownOf[cell + 1]!;
    const below = cell + columns < unknownOf.length ? unknownOf[cell + columns]! : -1;
    if (right >= 0) {
      const flow = 0.5 * coupling * (field[i]! + field[right]!) * (rise[right]! - rise[i]!);
      out[i]! += flow;
      out[right]! -= flow;
    }
    if (below >= 0) {
      const flow = 0.5 * coupling * (field[i]! + field[below]!) * (rise[below]! - rise[i]!);
      out[i]! += flow;
      out[below]! -= flow;
    }
  }
}
