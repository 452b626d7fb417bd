// align: differences at edge samples → the level of unexplained difference around each of them.
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import type { EdgeSamples } from "./edge-samples.js";

/** Side of the cells over which differences are averaged first, px. */
const CELL_PX = 4;
/** Gaussian width of the neighbourhood, cells: with the cell itself about 4 px, the size of a part. */
export const SIGMA_CELLS = 0.9;

/** Cells over which differences are averaged, in a picture of some size. */
export function surroundingCells(
  width: number,
  height: number,
): { sidePx: number; across: number; down: number } {
  return { sidePx: CELL_PX, across: Math.ceil(width / CELL_PX), down: Math.ceil(height / CELL_PX) };
}

/** Averages over neighbourhoods of samples. Heat and changed reflections raise the level around them, edges that merely
 *  are not yet aligned raise it little.
 */
export class Surroundings {
  /** Where each sample's cell stands, and how many cells there are. */
  private readonly cells: Int32Array;
  private readonly across: number;
  private readonly down: number;
  private readonly sums: Float32Array;
  private readonly counts: Float32Array;
  private readonly out: Float32Array;

  constructor(samples: EdgeSamples, width: number, height: number) {
    const { across, down } = surroundingCells(width, height);
    [this.across, this.down] = [across, down];
    this.cells = new Int32Array(samples.count);
    for (let k = 0; k < samples.count; k++) {
      this.cells[k] = Math.floor(samples.y[k]! / CELL_PX) * this.across + Math.floor(samples.x[k]! / CELL_PX);
    }
    this.sums = new Float32Array(this.across * this.down);
    this.counts = new Float32Array(this.across * this.down);
    this.out = new Float32Array(samples.count);
  }

  /** Mean size of the differences around each sample, unit of `residual`; overwritten by the next call.
   *  @param residual one per sample, NaN = no reading.
   */
  levels(residual: Float32Array): Float32Array {
    const { cells, sums, counts, out, across, down } = this;
    sums.fill(0);
    counts.fill(0);
    for (let k = 0; k < residual.length; k++) {
      const r = Math.abs(residual[k]!);
      if (!(r * 0 === 0)) continue;
      sums[cells[k]!]! += r;
      counts[cells[k]!]!++;
    }
    const sum = gaussianFilter(sums, across, down, SIGMA_CELLS);
    const count = gaussianFilter(counts, across, down, SIGMA_CELLS);
    for (let k = 0; k < out.length; k++) out[k] = sum[cells[k]!]! / count[cells[k]!]!;
    return out;
  }
}
