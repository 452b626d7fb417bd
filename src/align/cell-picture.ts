// align: frame → the means of its cells, without the sensor's lines and without what is no guide.

import { sharedKernels } from "../numeric/kernels.js";
import { markedPlaces } from "../numeric/marked-places.js";
import type { LinePattern } from "./line-pattern.js";

/** Means of square cells of pixels; NaN = left out. */
export interface CellPicture {
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
}

/** What is taken off a frame. */
export interface TakenOff {
  readonly lines: LinePattern;
  /** 1 = no guide; null: all of it is one. */
  readonly unreliable: Uint8Array | null;
  /** What lies within this of it is none either, px. */
  readonly reachPx: number;
}

/** Average a frame over cells.
 *  @param frame any unit, width×height, NaN = no reading; not modified.
 *  @param side of a cell, px; what is left at the right and at the foot is cut off.
 */
export function cellPicture(
  frame: { readonly width: number; readonly height: number; readonly data: Float32Array },
  side: number,
  taken: TakenOff | null = null,
): CellPicture {
  const width = Math.floor(frame.width / side);
  const height = Math.floor(frame.height / side);
  const columnsK = meansOf(taken?.lines.columnsK, side, width);
  const rowsK = meansOf(taken?.lines.rowsK, side, height);
  const data = averages(frame.data, frame.width, side, columnsK, rowsK);
  const picture = { width, height, data };
  if (taken !== null && taken.unreliable !== null) {
    leaveOut(picture, taken.unreliable, frame.width, side, taken.reachPx / side);
  }
  return picture;
}

/** Means of cells less the offsets of their columns and rows. */
function averages(
  data: Float32Array,
  frameWidth: number,
  side: number,
  columnsK: Float64Array,
  rowsK: Float64Array,
): Float32Array {
  const [width, height] = [columnsK.length, rowsK.length];
  const kernels = sharedKernels();
  if (kernels !== null) {
    const [from, columns, rows] = [kernels.put(data), kernels.put(columnsK), kernels.put(rowsK)];
    const to = kernels.take(4 * width * height);
    kernels.run.averageCells(from, frameWidth, side, width, height, columns, rows, to);
    return kernels.floats(to, width * height).slice();
  }
  const out = new Float32Array(width * height);
  const share = 1 / (side * side);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      let sum = 0;
      let at = side * (y * frameWidth + x);
      for (let v = 0; v < side; v++, at += frameWidth) {
        for (let u = 0; u < side; u++) sum += data[at + u]!;
      }
      out[i] = share * sum - columnsK[x]! - rowsK[y]!;
    }
  }
  return out;
}

function meansOf(lines: Float64Array | undefined, side: number, count: number): Float64Array {
  const out = new Float64Array(count);
  if (lines === undefined) return out;
  for (let k = 0; k < count * side; k++) out[Math.floor(k / side)]! += lines[k]! / side;
  return out;
}

/** Write NaN into all cells within a distance of an unreliable one. */
function leaveOut(
  { width, height, data }: CellPicture,
  unreliable: Uint8Array,
  frameWidth: number,
  side: number,
  reach: number,
): void {
  const whole = Math.floor(reach);
  for (const at of markedPlaces(unreliable)) {
    const x = Math.floor((at % frameWidth) / side);
    const y = Math.floor(at / frameWidth / side);
    // Within an area the pixel to the right does the same: its own column is enough.
    const inner = unreliable[at + 1] === 1 && unreliable[at - 1] === 1;
    for (let v = Math.max(0, y - whole); v <= Math.min(height - 1, y + whole); v++) {
      const span = inner ? 0 : Math.floor(Math.sqrt(Math.max(0, reach * reach - (v - y) ** 2)));
      const from = v * width + Math.max(0, x - span);
      const to = v * width + Math.min(width - 1, x + span);
      if (from <= to) data.fill(Number.NaN, from, to + 1);
    }
  }
}
