// place: a frame → where coarse edges run and in which direction, whichever side of them is the warmer one.
import { cellPicture } from "../align/cell-picture.js";
import type { Raster } from "../core/raster.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { median } from "../numeric/median.js";

/** Squared slope at which a cell counts half, × the frame's median squared slope. */
const HALF_FACTOR = 6;
/** Smoothing before slopes are taken, cells. */
const SMOOTH_CELLS = 0.8;

/** Directions of edges on a grid of cells, as complex numbers of twice the angle of the slope: a slope and its opposite
 *  are the same. The length tells how far the slope stands above the frame's usual one, 0…1.
 */
export interface EdgeDirections {
  readonly width: number;
  readonly height: number;
  /** Side of a cell, px. */
  readonly cellPx: number;
  readonly re: Float32Array;
  readonly im: Float32Array;
}

/** Find the edges of a frame on coarse cells, with their directions.
 *  Method: the double-angle representation of orientation (Granlund 1978, Comput. Graph. Image Process. 8:155; from
 *  memory), each cell's length held below 1, so that a strong edge counts as one edge and no more.
 *  @param frame any unit, without the sensor's lines; NaN = no reading.
 *  @param cellPx side of a cell, px.
 */
export function edgeDirections(frame: Raster, cellPx: number): EdgeDirections {
  const cells = cellPicture(frame, cellPx);
  const { width, height } = cells;
  const smooth = gaussianFilter(cells.data, width, height, SMOOTH_CELLS);
  const re = new Float32Array(width * height);
  const im = new Float32Array(width * height);
  const squares = new Float32Array(width * height);
  for (let y = 1; y < height - 1; y++) {
    for (let i = y * width + 1; i < (y + 1) * width - 1; i++) {
      const gx = smooth[i + 1]! - smooth[i - 1]!;
      const gy = smooth[i + width]! - smooth[i - width]!;
      const square = gx * gx + gy * gy;
      if (!(square * 0 === 0)) continue;
      squares[i] = square;
      re[i] = gx * gx - gy * gy;
      im[i] = 2 * gx * gy;
    }
  }
  const half = HALF_FACTOR * median(squares) + 1e-30;
  for (let i = 0; i < re.length; i++) {
    const share = 1 / (squares[i]! + half);
    re[i]! *= share;
    im[i]! *= share;
  }
  return { width, height, cellPx, re, im };
}
