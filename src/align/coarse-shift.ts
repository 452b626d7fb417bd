// align: two band-passed pictures → the whole-cell shift between them, by trying all.
import { fitAmounts } from "./fit-amounts.js";

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
 *  @param templates band-passed baseline first, then shapes that power may add to it (each in any amount), width×height,
 *  NaN = left out; not modified.
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
  // Never so far that less than half of the frame overlaps along an axis.
  const reachX = Math.min(Math.ceil(maxShiftPx / cellPx), Math.floor(w / 2));
  const reachY = Math.min(Math.ceil(maxShiftPx / cellPx), Math.floor(h / 2));
  let best: CoarseShift = { dxPx: 0, dyPx: 0, cost: shiftCost(shapes, b, w, h, 0, 0, scaleK) };
  for (let dy = -reachY; dy <= reachY; dy++) {
    for (let dx = -reachX; dx <= reachX; dx++) {
      const cost = shiftCost(shapes, b, w, h, dx, dy, scaleK);
      if (cost < best.cost) best = { dxPx: dx * cellPx, dyPx: dy * cellPx, cost };
    }
  }
  return best;
}

function shiftCost(
  shapes: readonly Float32Array[],
  b: Float32Array,
  w: number,
  h: number,
  dx: number,
  dy: number,
  scaleK: number,
): number {
  const moved = new Float32Array(w * h).fill(Number.NaN);
  for (let y = Math.max(0, -dy); y < Math.min(h, h - dy); y++) {
    for (let x = Math.max(0, -dx); x < Math.min(w, w - dx); x++) moved[y * w + x] = b[(y + dy) * w + x + dx]!;
  }
  const amounts = fitAmounts(shapes, moved, scaleK);
  const scale2 = scaleK * scaleK;
  let sum = 0;
  let count = 0;
  for (let i = 0; i < moved.length; i++) {
    let r = moved[i]!;
    for (let k = 0; k < shapes.length; k++) r -= amounts[k]! * shapes[k]![i]!;
    const r2 = r * r;
    const cost = r2 / (r2 + scale2);
    // A comparison with NaN is false: pixels without a reading drop out.
    if (cost >= 0) {
      sum += cost;
      count++;
    }
  }
  return count === 0 ? 1 : sum / count;
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
