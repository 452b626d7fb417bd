// page: temperatures → how far each pixel stands out of its neighbourhood, so that faint edges show beside strong ones.
import { evenStride } from "../../numeric/even-stride.js";

/** Half of the neighbourhood's side, as a share of the picture's shorter one: a part is smaller, a board larger. */
const REACH_SHARE = 1 / 12;
/** … and no less than this, px. */
const LEAST_REACH_PX = 3;
/** So many pixels tell what a usual neighbourhood scatters by. */
const MOST_VALUES = 16_384;
/** Half of the side of the square whose mean stands for a pixel, px: the mean of 3×3 has a third of the noise, and
 *  moves no edge. */
const SMOOTH_PX = 1;

/** Take the mean of the neighbourhood from the mean of each pixel and those that touch it, and divide by the scatter
 *  there; what a usual neighbourhood scatters by is added to that, so that noise on an even ground stays faint. Method:
 *  local normalisation by sums over rectangles (F. C. Crow, 1984, "Summed-area tables for texture mapping").
 *  @param data width×height, row by row; NaN = no reading; not modified.
 *  @returns in units of scatter, same shape; NaN where the input is NaN.
 */
export function evenOut(data: Float32Array, width: number, height: number): Float32Array {
  const reach = Math.max(LEAST_REACH_PX, Math.round(Math.min(width, height) * REACH_SHARE));
  const isRead = (value: number): boolean => value * 0 === 0;
  // Near the first value numbers are small, and sums of their squares lose nothing.
  const shift = data.find(isRead) ?? 0;
  const counts = sumTable(data, width, height, (value) => (isRead(value) ? 1 : 0));
  const sums = sumTable(data, width, height, (value) => (isRead(value) ? value - shift : 0));
  const squares = sumTable(data, width, height, (value) => (isRead(value) ? (value - shift) ** 2 : 0));
  /** Of the square around a pixel, as far as it lies in the picture. */
  const meanOf = (table: Float64Array, x: number, y: number, half: number): number => {
    const [top, bottom] = [Math.max(0, y - half) * (width + 1), Math.min(height, y + half + 1) * (width + 1)];
    const [left, right] = [Math.max(0, x - half), Math.min(width, x + half + 1)];
    const within = (of: Float64Array): number =>
      of[bottom + right]! - of[top + right]! - of[bottom + left]! + of[top + left]!;
    return within(table) / within(counts);
  };
  const apart = new Float32Array(data.length);
  const variances = new Float32Array(data.length);
  for (let i = 0; i < data.length; i++) {
    const [x, y] = [i % width, Math.floor(i / width)];
    const mean = meanOf(sums, x, y, reach);
    variances[i] = Math.max(0, meanOf(squares, x, y, reach) - mean * mean);
    apart[i] = isRead(data[i]!) ? meanOf(sums, x, y, SMOOTH_PX) - mean : Number.NaN;
  }
  const usual = usualOf(variances, width);
  return apart.map((value, i) => value / Math.sqrt(variances[i]! + usual || 1));
}

/** Sums over all rectangles from the upper left corner; one row and one column more than the picture. */
function sumTable(
  data: Float32Array,
  width: number,
  height: number,
  of: (value: number) => number,
): Float64Array {
  const table = new Float64Array((width + 1) * (height + 1));
  for (let y = 0; y < height; y++) {
    let row = 0;
    for (let x = 0; x < width; x++) {
      row += of(data[y * width + x]!);
      table[(y + 1) * (width + 1) + x + 1] = table[y * (width + 1) + x + 1]! + row;
    }
  }
  return table;
}

function usualOf(variances: Float32Array, width: number): number {
  const stride = evenStride(variances.length, width, MOST_VALUES);
  const some = Float32Array.from(
    { length: Math.ceil(variances.length / stride) },
    (_, i) => variances[i * stride]!,
  );
  const sorted = some.filter((value) => value * 0 === 0).sort();
  return sorted[sorted.length >> 1] ?? 0;
}
