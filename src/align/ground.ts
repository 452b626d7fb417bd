// align: what the map draws and what is surely off it → what is board and what is bench, per cell.
import { gaussianFilter } from "../numeric/gaussian-filter.js";

/** What lies where, per cell of a picture. */
export interface Ground {
  /** 1 = certainly off the board: a bench that may have structure of its own. */
  readonly beside: Uint8Array;
  /** How much of what the detail around a cell shows is the board, 0…1. */
  readonly boardShare: Float32Array;
}

/** Cells of a frame. */
export interface Cells {
  /** Of a cell, px. */
  readonly side: number;
  readonly frameWidth: number;
  readonly width: number;
  readonly height: number;
}

/** Tell board and bench apart.
 *  @param beside 1 = certainly off the board, per pixel of the frame; not modified.
 *  @param drawn what the camera sees of the board, 0…1 per cell, 0 outside its outline; not modified. Null: all that is
 *  not surely off.
 *  @param fineSigma Gaussian width of the finest detail that is compared, cells.
 */
export function groundOf(
  beside: Uint8Array,
  drawn: Float32Array | null,
  cells: Cells,
  fineSigma: number,
): Ground {
  const off = cornersOf(beside, cells);
  const board = Float32Array.from(off, (isOff, i) => (drawn === null ? 1 - isOff : drawn[i]! > 0 ? 1 : 0));
  return { beside: off, boardShare: gaussianFilter(board, cells.width, cells.height, fineSigma) };
}

/** The upper left pixel of each cell. */
function cornersOf(pixels: Uint8Array, { side, frameWidth, width, height }: Cells): Uint8Array {
  if (side === 1) return pixels;
  const out = new Uint8Array(width * height);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) out[i] = pixels[side * (y * frameWidth + x)]!;
  }
  return out;
}
