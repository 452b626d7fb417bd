// numeric: picture with holes → picture without, each hole crossed by a straight line along its row.
import type { Address } from "./kernel-exports.js";
import type { Kernels } from "./kernels.js";

/** Bridge NaN pixels along their row; a row without any reading repeats the nearest one above, else below.
 *  For filters that need a number everywhere and whose result is masked again afterwards: bridged pixels are no
 *  readings.
 *  @param data any unit, row-major; not modified.
 *  @returns a copy in double without NaN; all zero if there is no reading at all.
 */
export function bridgeHoles(data: Float32Array | Float64Array, width: number, height: number): Float64Array {
  const values = new Float64Array(data);
  if (!data.includes(Number.NaN)) return values;
  let firstFull = -1;
  let lastFull = -1;
  for (let y = 0; y < height; y++) {
    const row = values.subarray(y * width, (y + 1) * width);
    if (bridgeRow(row)) {
      if (firstFull < 0) firstFull = y;
      lastFull = y;
    } else if (lastFull >= 0) {
      values.copyWithin(y * width, lastFull * width, (lastFull + 1) * width);
    }
  }
  if (firstFull < 0) {
    values.fill(0);
    return values;
  }
  for (let y = 0; y < firstFull; y++)
    values.copyWithin(y * width, firstFull * width, (firstFull + 1) * width);
  return values;
}

/** The same by the compiled kernels, left in their memory.
 *  @param from where the picture lies there.
 *  @returns where its doubles lie.
 */
export function bridgedByKernel(kernels: Kernels, from: Address, width: number, height: number): Address {
  const size = width * height;
  const at = kernels.take(8 * size);
  kernels.run.promote(from, size, at);
  if (kernels.run.countMissing(from, size) > 0) kernels.run.bridgeHoles(at, width, height);
  return at;
}

/** Join the readings of a row by straight lines; false if there is none. */
function bridgeRow(row: Float64Array): boolean {
  let previous = -1;
  for (let x = 0; x < row.length; x++) {
    const value = row[x]!;
    if (Number.isNaN(value)) continue;
    if (previous < 0) row.fill(value, 0, x);
    else {
      const before = row[previous]!;
      for (let i = previous + 1; i < x; i++)
        row[i] = before + ((value - before) * (i - previous)) / (x - previous);
    }
    previous = x;
  }
  if (previous < 0) return false;
  row.fill(row[previous]!, previous + 1);
  return true;
}
