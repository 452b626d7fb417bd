// align: two band-passed pictures → the whole-cell shift between them, by trying all.
import { quantile } from "../numeric/median.js";
import { fitAmounts } from "./fit-amounts.js";

/** Cells that are compared: those in which the picture shows most say nearly all that there is to be said. */
const MOST_CELLS = 800;

/** Result of `coarseShift`. */
export interface CoarseShift {
  readonly dxPx: number;
  readonly dyPx: number;
  /** Robust cost at the best shift, 0…1. */
  readonly cost: number;
}

/** Find how far `moving` lies from `template` by trying every shift on a coarse grid.
 *  The cost of a pixel saturates (Geman–McClure), so that a hot spot or a changed reflection counts as so many
 *  pixels that don't fit and no more, however strong it is.
 *  @param templates band-passed baseline first, then shapes that power may add to it (each in any amount),
 *  width×height, NaN = left out; not modified.
 *  @param moving band-passed powered frame of the same shape; not modified.
 *  @param options.cellPx side of a grid cell; both pictures are averaged over cells.
 *  @param options.maxShiftPx largest shift tried along each axis.
 *  @param options.scaleK difference at which a pixel's cost reaches one half.
 *  @returns the shift of moving relative to template, px, positive right and down.
 */
export function coarseShift(
  templates: readonly Float32Array[],
  moving: Float32Array,
  width: number,
  height: number,
  options: { readonly cellPx: number; readonly maxShiftPx: number; readonly scaleK: number },
): CoarseShift {
  const { cellPx, maxShiftPx, scaleK } = options;
  const w = Math.max(1, Math.floor(width / cellPx));
  const h = Math.max(1, Math.floor(height / cellPx));
  const shapes = templates.map((template) => averageCells(template, width, cellPx, w, h));
  const b = averageCells(moving, width, cellPx, w, h);
  const cells = strongestCells(shapes, w * h);
  const lists = shapes.map((shape) => Float32Array.from(cells, (i) => shape[i]!));
  const moved = new Float32Array(cells.length);
  const costAt = (dx: number, dy: number): number => {
    readMoved(b, w, h, cells, dx, dy, moved);
    return robustCost(lists, moved, scaleK);
  };
  // Never so far that less than half of the frame overlaps along an axis.
  const reachX = Math.min(Math.ceil(maxShiftPx / cellPx), Math.floor(w / 2));
  const reachY = Math.min(Math.ceil(maxShiftPx / cellPx), Math.floor(h / 2));
  let best: CoarseShift = { dxPx: 0, dyPx: 0, cost: costAt(0, 0) };
  for (let dy = -reachY; dy <= reachY; dy++) {
    for (let dx = -reachX; dx <= reachX; dx++) {
      const cost = costAt(dx, dy);
      if (cost < best.cost) best = { dxPx: dx * cellPx, dyPx: dy * cellPx, cost };
    }
  }
  return best;
}

/** Cells in which the shapes show most, each shape measured by its own root mean square; in reading order. */
function strongestCells(shapes: readonly Float32Array[], size: number): Int32Array {
  const strength = new Float32Array(size);
  for (const shape of shapes) {
    let sum = 0;
    let count = 0;
    for (const v of shape) {
      if (!(v * 0 === 0)) continue;
      sum += v * v;
      count++;
    }
    const scale = sum > 0 ? Math.sqrt(count / sum) : 0;
    for (let i = 0; i < size; i++) strength[i] = Math.max(strength[i]!, Math.abs(shape[i]!) * scale);
  }
  const least = size > MOST_CELLS ? quantile(strength, 1 - MOST_CELLS / size) : 0;
  const cells: number[] = [];
  for (let i = 0; i < size; i++) if (strength[i]! >= least) cells.push(i);
  return Int32Array.from(cells);
}

/** Values of the moving picture where a shift brings the cells; NaN beyond its border. */
function readMoved(
  b: Float32Array,
  w: number,
  h: number,
  cells: Int32Array,
  dx: number,
  dy: number,
  out: Float32Array,
): void {
  for (let k = 0; k < cells.length; k++) {
    const x = (cells[k]! % w) + dx;
    const y = Math.floor(cells[k]! / w) + dy;
    out[k] = x >= 0 && x < w && y >= 0 && y < h ? b[y * w + x]! : Number.NaN;
  }
}

/** Mean cost of the cells, the shapes in the amounts that fit best. */
function robustCost(shapes: readonly Float32Array[], moved: Float32Array, scaleK: number): number {
  const amounts = fitAmounts(shapes, moved, scaleK);
  const scale2 = scaleK * scaleK;
  const first = shapes[0]!;
  const second = shapes[1] ?? first;
  const third = shapes[2] ?? first;
  const a = amounts[0]!;
  const b = amounts[1] ?? 0;
  const c = amounts[2] ?? 0;
  let sum = 0;
  for (let i = 0; i < moved.length; i++) {
    const fit = a * first[i]! + b * second[i]! + c * third[i]!;
    // What has left the picture is compared with nothing: else the emptiest overlap would fit best.
    const r = moved[i]! * 0 === 0 ? moved[i]! - fit : first[i]!;
    const r2 = r * r;
    sum += r2 / (r2 + scale2);
  }
  return moved.length === 0 ? 1 : sum / moved.length;
}

function averageCells(data: Float32Array, width: number, cell: number, w: number, h: number): Float32Array {
  const out = new Float32Array(w * h);
  for (let y = 0; y < h; y++) {
    for (let x = 0; x < w; x++) {
      let sum = 0;
      for (let v = 0; v < cell; v++) {
        const row = (y * cell + v) * width + x * cell;
        for (let u = 0; u < cell; u++) sum += data[row + u]!;
      }
      out[y * w + x] = sum / (cell * cell);
    }
  }
  return out;
}
