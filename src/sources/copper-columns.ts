// sources: heat on a plate in some state, and fields of its copper → what the pictures show of each field, to first
// order.
import type { Polygon } from "../board/polygon.js";
import type { Column } from "./column.js";
import { type HeatFootprint, heatFootprint } from "./heat-footprint.js";
import type { Picture } from "./picture.js";
import { PLATE_BATCH, PlateBatch } from "./plate-batch.js";
import type { PlateSteps } from "./plate-columns.js";
import { makePlateGrid, type PlateGrid } from "./plate-grid.js";
import { stepHeat } from "./plate-rise.js";

/** What copper changes is smooth but close to the source, where the fit trusts the pixels least: somewhat wider cells
 *  will do. */
const GRID = Object.freeze({ shortSideCells: 28, minStepMm: 0.7 });

/** One that heats, as the coarse plate sees it. */
interface CoarseHeat {
  readonly footprint: HeatFootprint;
  readonly powerW: number;
}

/** A coarser plate of the same outline, which shows what uneven copper changes. */
export class CopperColumns {
  readonly grid: PlateGrid;
  private readonly seen: readonly Pixels[];
  private readonly plate: PlateBatch;
  private readonly neighbours: Neighbours;

  constructor(
    outline: Polygon,
    pictures: readonly Picture[],
    /** All pixels on the board, as the columns of the plate have them. */
    private readonly at: Int32Array,
  ) {
    this.grid = makePlateGrid(outline, GRID);
    this.plate = new PlateBatch("copper", this.grid);
    this.neighbours = neighboursOn(this.grid);
    this.seen = pictures.map((picture) => lookAt(this.grid, picture));
  }

  /** See `heatFootprint`. */
  footprint(polygon: Polygon): HeatFootprint | null {
    return heatFootprint(this.grid, polygon);
  }

  /** Where the conductance is greater by the share φ, what flows is greater by φ·∇θ: the rise changes by what the plate
   *  makes of the sources k·∇·(φ∇θ), step by step as the rise itself. Their sum over the board is 0, whatever φ.
   *  @param fields one number for each unknown. @param way by which the plate comes to its state.
   *  @returns K per pixel on the board and unit of each field.
   */
  columns(fields: readonly Float64Array[], heats: readonly CoarseHeat[], way: PlateSteps): Column[] {
    const { weights, keep, stepMm } = way;
    const n = this.grid.cellOf.length;
    const added = new Float64Array(n);
    for (const { footprint, powerW } of heats) {
      const shares = stepHeat(this.grid, footprint, way.perWatt, weights, keep);
      footprint.unknowns.forEach((unknown, k) => {
        added[unknown]! += powerW * shares[k]!;
      });
    }
    const rises: Float64Array[] = [];
    for (const weight of weights) {
      const before = rises.at(-1);
      const heat = added.map((one, i) => weight * one + (before === undefined ? 0 : keep * before[i]!));
      rises.push(...this.plate.solve(stepMm, [heat]));
    }
    const flows = rises.map((rise) => this.flows(rise, 0.5 * (stepMm / this.grid.stepMm) ** 2));
    const columns: Column[] = [];
    for (let k = 0; k < fields.length; k += PLATE_BATCH) {
      const some = fields.slice(k, k + PLATE_BATCH);
      let changes: Float64Array[] = some.map(() => new Float64Array(n));
      for (const flow of flows) {
        for (const [r, change] of changes.entries()) this.addDivergence(some[r]!, flow, keep, change);
        changes = this.plate.solve(stepMm, changes);
      }
      for (const change of changes) columns.push({ at: this.at, values: this.show(change), wide: true });
    }
    return columns;
  }

  /** What flows from each cell to its two neighbours. @param coupling half of that between cells. */
  private flows(rise: Float64Array, coupling: number): Flows {
    const { right, below } = this.neighbours;
    const toRight = new Float64Array(rise.length);
    const down = new Float64Array(rise.length);
    for (let i = 0; i < rise.length; i++) {
      const own = rise[i]!;
      toRight[i] = coupling * (rise[right[i]!]! - own);
      down[i] = coupling * (rise[below[i]!]! - own);
    }
    return { toRight, down };
  }

  /** Keep a share of what is there, and add to each cell the sum over its neighbours of what flows, times the field
   *  between. */
  private addDivergence(
    field: Float64Array,
    { toRight, down }: Flows,
    keep: number,
    out: Float64Array,
  ): void {
    const { right, below } = this.neighbours;
    if (keep !== 1) for (let i = 0; i < out.length; i++) out[i]! *= keep;
    for (let i = 0; i < out.length; i++) {
      const [r, b] = [right[i]!, below[i]!];
      const across = (field[i]! + field[r]!) * toRight[i]!;
      const along = (field[i]! + field[b]!) * down[i]!;
      out[i]! += across + along;
      out[r]! -= across;
      out[b]! -= along;
    }
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

/** Of each cell the one to the right and the one below; the cell itself where there is none, to which nothing flows. */
interface Neighbours {
  readonly right: Int32Array;
  readonly below: Int32Array;
}

function neighboursOn({ cellOf, columns, unknownOf }: PlateGrid): Neighbours {
  const orItself = (i: number, cell: number) => ((unknownOf[cell] ?? -1) < 0 ? i : unknownOf[cell]!);
  const right = cellOf.map((cell, i) => ((cell + 1) % columns === 0 ? i : orItself(i, cell + 1)));
  return { right, below: cellOf.map((cell, i) => orItself(i, cell + columns)) };
}

/** What flows from each cell to the one to the right and the one below, both ÷ 2. */
interface Flows {
  readonly toRight: Float64Array;
  readonly down: Float64Array;
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
