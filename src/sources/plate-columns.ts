// sources: footprints of one watt and a state of the plate → what the pictures show of each, four at a time.
import type { Address } from "../numeric/kernel-exports.js";
import { type Kernels, keptKernels, newOwner } from "../numeric/kernels.js";
import type { BoardInFrame } from "./board-in-frame.js";
import type { HeatFootprint } from "./heat-footprint.js";
import { type Picture, showOnPictures } from "./picture.js";
import { PLATE_BATCH as BATCH } from "./plate-batch.js";
import { PlateFactors } from "./plate-factors.js";
import type { PlateGrid } from "./plate-grid.js";
import { plateRise, stepHeat } from "./plate-rise.js";

/** How a plate is brought from power-on to a state. */
export interface PlateSteps {
  /** Length of the spreading in one step, mm. */
  readonly stepMm: number;
  /** Heat of each step, the first one first, as shares of one scale. */
  readonly weights: readonly number[];
  /** Share of what is there that each step leaves. */
  readonly keep: number;
  /** K·m² per W, of all steps together. */
  readonly perWatt: number;
}

/** Makes columns of heat on the plate, four at a time where WebAssembly may be used. */
export class PlateColumns {
  private readonly owner = newOwner();
  private readonly factors: PlateFactors;
  private shown: readonly ShownPixels[] = [];
  private rise: Address = 0;
  private out: Address = 0;

  /** Pixels on the board, of all pictures. */
  private readonly size: number;

  constructor(
    private readonly grid: PlateGrid,
    private readonly pictures: readonly Picture[],
  ) {
    this.factors = new PlateFactors(grid);
    this.size = pictures.reduce((sum, { at }) => sum + at.length, 0);
  }

  private lay(kernels: Kernels): void {
    const { grid, size } = this;
    this.factors.lay(kernels);
    this.rise = kernels.take(8 * BATCH * grid.cellOf.length);
    this.out = kernels.take(4 * BATCH * size);
    this.shown = this.pictures.map(({ seen }) => layPixels(kernels, seen));
  }

  /** Compute what one watt in each footprint shows once the plate has been brought to a state.
   *  @returns K per W and pixel on the board, of all pictures, one array for each footprint.
   */
  columns(footprints: readonly HeatFootprint[], way: PlateSteps): Float32Array[] {
    const kernels = keptKernels("plate", this.owner, (fresh) => this.lay(fresh));
    const out: Float32Array[] = [];
    for (let k = 0; k < footprints.length; k += BATCH) {
      const some = footprints.slice(k, k + BATCH);
      out.push(...(kernels === null ? this.plain(some, way) : this.batch(kernels, some, way)));
    }
    return out;
  }

  private plain(footprints: readonly HeatFootprint[], way: PlateSteps): Float32Array[] {
    const solver = this.factors.solver(way.stepMm);
    return footprints.map((footprint) => {
      const rise = plateRise(this.grid, solver, footprint, way.perWatt, way.weights, way.keep);
      return showOnPictures(this.pictures, rise);
    });
  }

  private batch(kernels: Kernels, footprints: readonly HeatFootprint[], way: PlateSteps): Float32Array[] {
    const { grid, rise, out, size } = this;
    const { run } = kernels;
    const n = grid.cellOf.length;
    const factor = this.factors.at(kernels, way.stepMm);
    const numbers = kernels.doubles(rise, BATCH * n).fill(0);
    const heats = footprints.map((footprint) =>
      stepHeat(grid, footprint, way.perWatt, way.weights, way.keep),
    );
    for (const [step, weight] of way.weights.entries()) {
      if (step > 0 && way.keep !== 1) run.scale(rise, BATCH * n, way.keep);
      for (const [r, { unknowns }] of footprints.entries()) {
        for (let k = 0; k < unknowns.length; k++)
          numbers[BATCH * unknowns[k]! + r]! += weight * heats[r]![k]!;
      }
      run.solveBand(factor, n, grid.bandwidth, rise);
    }
    let to = out;
    for (const { places, count, cells, weights, shown } of this.shown) {
      run.showFour(places, count, cells, weights, shown, rise, to, size);
      to += 4 * count;
    }
    return footprints.map((_, r) => kernels.floats(out + 4 * size * r, size).slice());
  }
}

/** Where a picture's pixels on the board stand in the kernels' memory. */
interface ShownPixels {
  /** Where each is written: one behind the other. */
  readonly places: Address;
  readonly count: number;
  readonly cells: Address;
  readonly weights: Address;
  readonly shown: Address;
}

function layPixels(kernels: Kernels, seen: BoardInFrame): ShownPixels {
  const count = seen.pixels.length;
  const places = kernels.take(4 * count);
  const cells = kernels.take(16 * count);
  const weights = kernels.take(16 * count);
  const shown = kernels.take(4 * count);
  const [place, cell, weight, finish] = [
    kernels.integers(places, count),
    kernels.integers(cells, 4 * count),
    kernels.floats(weights, 4 * count),
    kernels.floats(shown, count),
  ];
  for (let k = 0; k < count; k++) {
    const i = seen.pixels[k]!;
    place[k] = k;
    finish[k] = seen.shown[i]!;
    for (let e = 0; e < 4; e++) {
      // Where there is no cell the weight is 0, and any cell will do.
      cell[4 * k + e] = Math.max(0, seen.unknowns[4 * i + e]!);
      weight[4 * k + e] = seen.weights[4 * i + e]!;
    }
  }
  return { places, count, cells, weights, shown };
}
