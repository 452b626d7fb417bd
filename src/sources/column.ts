// sources: pixels and what one unit of something shows in them → a column of the fit, whole or only where it is not
// zero.

/** What one unit of a cause shows, over the pixels of all pictures one after the other. */
export interface Column {
  /** Pixels, ascending; null: all of them. */
  readonly at: Int32Array | null;
  /** K per unit, one per pixel of `at`. */
  readonly values: Float32Array;
  /** True where `at` is the list of all pixels on the board, the same one for all columns of a model: a fit adds up
   *  their products as those of whole pictures. */
  readonly wide?: boolean;
}

/** A window of a picture. */
export interface Window {
  readonly x0: number;
  readonly y0: number;
  readonly width: number;
  readonly height: number;
}

/** A column that covers every pixel. */
export function wholeColumn(values: Float32Array): Column {
  return { at: null, values };
}

/** A column from the values in a window, zeros left out.
 *  @param frameWidth width of the picture, px.
 *  @param offset number of pixels in the pictures before it.
 */
export function windowColumn(
  window: Window,
  frameWidth: number,
  offset: number,
  values: Float32Array,
): Column {
  let count = 0;
  for (let k = 0; k < values.length; k++) if (values[k] !== 0) count++;
  const at = new Int32Array(count);
  const kept = new Float32Array(count);
  let n = 0;
  for (let y = 0, k = 0; y < window.height; y++) {
    const row = offset + (window.y0 + y) * frameWidth + window.x0;
    for (let x = 0; x < window.width; x++, k++) {
      if (values[k] === 0) continue;
      at[n] = row + x;
      kept[n++] = values[k]!;
    }
  }
  return { at, values: kept };
}

/** A column from the values in a whole picture, one of several.
 *  @param offset number of pixels in the pictures before it.
 *  @param size number of pixels in all pictures.
 */
export function pictureColumn(values: Float32Array, offset: number, size: number): Column {
  if (values.length === size) return wholeColumn(values);
  return { at: Int32Array.from(values, (_, i) => offset + i), values };
}

/** A column from the values at a picture's pixels on the board, one of several pictures.
 *  @param at those pixels among all. @param alone true where there is no other picture.
 */
export function boardColumn(at: Int32Array, values: Float32Array, alone: boolean): Column {
  return alone ? { at, values, wide: true } : { at, values };
}

/** The same cause seen in several pictures: columns of ascending pixels, put one after the other. */
export function joinColumns(columns: readonly Column[]): Column | null {
  if (columns.length === 0) return null;
  if (columns.length === 1) return columns[0]!;
  const length = columns.reduce((sum, column) => sum + column.values.length, 0);
  const at = new Int32Array(length);
  const values = new Float32Array(length);
  let n = 0;
  for (const column of columns) {
    at.set(column.at!, n);
    values.set(column.values, n);
    n += column.values.length;
  }
  return { at, values };
}

/** True where a fit takes a column's products as those of whole pictures. */
export function coversAll({ at, wide }: Column): boolean {
  return at === null || wide === true;
}

/** Add a multiple of a column to whole pictures. */
export function addColumn(to: Float32Array, column: Column, amount: number): void {
  const { at, values } = column;
  if (at === null) for (let i = 0; i < values.length; i++) to[i]! += amount * values[i]!;
  else for (let k = 0; k < at.length; k++) to[at[k]!]! += amount * values[k]!;
}

/** Product of two columns over the pixels they share. */
export function columnProduct(a: Column, b: Column): number {
  if (a.at === null && b.at === null) return wholeProduct(a.values, b.values);
  if (a.at === null) return sparseProduct(b.at!, b.values, a.values);
  if (b.at === null) return sparseProduct(a.at, a.values, b.values);
  let sum = 0;
  let j = 0;
  const { at, values } = b;
  for (let i = 0; i < a.at.length; i++) {
    const pixel = a.at[i]!;
    while (j < at.length && at[j]! < pixel) j++;
    if (j === at.length) break;
    if (at[j] === pixel) sum += a.values[i]! * values[j]!;
  }
  return sum;
}

function sparseProduct(at: Int32Array, values: Float32Array, whole: Float32Array): number {
  let sum = 0;
  for (let k = 0; k < at.length; k++) sum += values[k]! * whole[at[k]!]!;
  return sum;
}

/** Four running sums: the additions of one would each wait for the last. */
function wholeProduct(a: Float32Array, b: Float32Array): number {
  const n = a.length;
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let k = 0;
  for (; k + 3 < n; k += 4) {
    s0 += a[k]! * b[k]!;
    s1 += a[k + 1]! * b[k + 1]!;
    s2 += a[k + 2]! * b[k + 2]!;
    s3 += a[k + 3]! * b[k + 3]!;
  }
  for (; k < n; k++) s0 += a[k]! * b[k]!;
  return s0 + s1 + (s2 + s3);
}

/** Where some pixels stand among others; as many as those are where they do not. Both ascending. */
export function placesAmong(pixels: Int32Array, others: Int32Array): Int32Array {
  const out = new Int32Array(pixels.length);
  for (let k = 0, j = 0; k < out.length; k++) {
    while (j < others.length && others[j]! < pixels[k]!) j++;
    out[k] = j < others.length && others[j] === pixels[k] ? j : others.length;
  }
  return out;
}
