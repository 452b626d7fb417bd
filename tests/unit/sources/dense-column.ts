// tests: a column, whole or sparse → plain numbers for every pixel.
import type { Column } from "../../../src/sources/column.js";

/** What a column shows at every pixel of all pictures.
 *  @param size number of pixels.
 */
export function denseOf({ at, values }: Column, size: number): Float64Array {
  const out = new Float64Array(size);
  values.forEach((value, k) => {
    out[at === null ? k : at[k]!]! += value;
  });
  return out;
}

/** Σ a·b over two rows of numbers. */
export function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
  return sum;
}
