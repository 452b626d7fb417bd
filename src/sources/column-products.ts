// sources: whole columns of a fit → whitened, and their products with the nuisances and the data, several at a time.
import type { Address } from "../numeric/kernel-exports.js";
import { type Kernels, keptKernels, newOwner } from "../numeric/kernels.js";
import { addColumn, type Column, columnProduct, placesAmong, wholeColumn } from "./column.js";

/** Columns whitened at once: their products then read the nuisances once. */
const BATCH = 16;
/** Pixels at a time, so that what is read again is still near. */
const STRETCH = 1024;
/** Running sums of a product. */
const SUMS = 4;

/** What a column gives whitened, over the pixels that take part, ÷ noise. */
export interface WhitenedProducts {
  /** With each of the rows. */
  readonly products: Float64Array;
  /** With each of the sparse ones. */
  readonly withSparse: Float64Array;
  /** With itself. */
  readonly norm: number;
}

/** Products of columns with rows that stay: the nuisances that cover all pixels, and the data. */
export class ColumnProducts {
  private readonly owner = newOwner();
  private readonly stride: number;
  private readonly whole: number;
  private pixelsAt: Address = 0;
  private sigmaAt: Address = 0;
  private valuesAt: Address = 0;
  private rowsAt: Address = 0;
  private batchAt: Address = 0;
  private sumsAt: Address = 0;
  private amountsAt: Address = 0;
  private sparseAt: readonly { readonly at: Address; readonly values: Address }[] = [];
  /** The pixels that wide columns cover, and where those that take part stand among them. */
  private wide: { readonly at: Int32Array; readonly places: Int32Array; laid: Address | null } | null = null;
  /** The rows whitened, where there are no kernels to hold them. */
  private plain: readonly Float32Array[] | null = null;

  /** @param pixels those that take part. @param sigma noise of each, K. @param size pixels of all pictures.
   *  @param columns those of the rows, whole or wide, not whitened.
   *  @param sparse nuisances that cover some pixels only, whitened, by their places among the pixels that take part.
   */
  constructor(
    private readonly pixels: Int32Array,
    private readonly sigma: Float32Array,
    private readonly size: number,
    private readonly columns: readonly Column[],
    private readonly sparse: readonly Column[] = [],
  ) {
    const count = pixels.length;
    this.whole = count - (count % SUMS);
    this.stride = this.whole + SUMS;
  }

  /** The kernels with everything in place; null: by the plain code. */
  private get kernels(): Kernels | null {
    return keptKernels("products", this.owner, (kernels) => {
      const { pixels, sigma, size, columns, sparse } = this;
      this.pixelsAt = kernels.put(pixels);
      this.sigmaAt = kernels.put(sigma);
      this.valuesAt = kernels.take(8 * (size + 1));
      this.rowsAt = kernels.take(4 * this.stride * columns.length);
      this.batchAt = kernels.take(4 * this.stride * BATCH);
      this.sumsAt = kernels.take(8 * SUMS * Math.max(1, columns.length) * BATCH);
      this.amountsAt = kernels.take(8 * Math.max(columns.length, BATCH));
      this.sparseAt = sparse.map(({ at, values }) => ({ at: kernels.put(at!), values: kernels.put(values) }));
      if (this.wide !== null) this.wide.laid = null;
      // Whitened where they stay. Should another owner have come between, they are whitened anew.
      columns.forEach((column, k) => {
        this.whiten(kernels, column, this.rowsAt + 4 * this.stride * k);
      });
    });
  }

  /** The rows whitened: in the kernels' memory, valid until its next use, or by the plain code.
   *  @param to none of those from here on.
   */
  private rowsFrom(from: number, to: number, kernels: Kernels | null): readonly Float32Array[] {
    if (kernels === null) {
      this.plain ??= this.columns.map((column) => this.plainWhiten(column));
      return this.plain.slice(from, to);
    }
    const out: Float32Array[] = [];
    for (let k = from; k < Math.min(to, this.columns.length); k++) {
      out.push(kernels.floats(this.rowsAt + 4 * this.stride * k, this.pixels.length));
    }
    return out;
  }

  /** A row, whitened. */
  row(k: number): Float32Array {
    return this.rowsFrom(k, k + 1, this.kernels)[0]!.slice();
  }

  /** Products of all rows with each other.
   *  @returns full symmetric matrix by rows.
   */
  gram(): Float64Array {
    const m = this.columns.length;
    const out = new Float64Array(m * m);
    const { kernels } = this;
    const at = kernels === null ? 0 : this.rowsAt;
    for (let a = 0; a < m; a += BATCH) {
      const some = this.rowsFrom(a, a + BATCH, kernels);
      const products = this.productsOf(some, at + 4 * this.stride * a, Math.min(m, a + BATCH));
      some.forEach((_, k) => {
        for (let b = 0; b <= a + k; b++) {
          out[(a + k) * m + b] = products[k]![b]!;
          out[b * m + a + k] = products[k]![b]!;
        }
      });
    }
    return out;
  }

  /** Add multiples of some rows to a whitened picture, one row after the other.
   *  @param first the first of them. @param amounts one for each.
   */
  addRows(to: Float32Array, first: number, amounts: readonly number[]): void {
    const { kernels, stride } = this;
    if (kernels === null) {
      this.rowsFrom(first, first + amounts.length, null).forEach((row, k) => {
        addColumn(to, wholeColumn(row), amounts[k]!);
      });
      return;
    }
    const count = to.length;
    kernels.floats(this.batchAt, count).set(to);
    kernels.doubles(this.amountsAt, amounts.length).set(amounts);
    const from = this.rowsAt + 4 * stride * first;
    kernels.run.addColumns(this.batchAt, from, 4 * stride, amounts.length, this.amountsAt, count);
    to.set(kernels.floats(this.batchAt, count));
  }

  /** Whiten columns that are whole or wide, and take their products. */
  ready(columns: readonly Column[]): WhitenedProducts[] {
    const out: WhitenedProducts[] = [];
    for (let k = 0; k < columns.length; k += BATCH) {
      const whitened = this.whitenSome(columns.slice(k, k + BATCH));
      const products = this.productsOf(whitened, this.batchAt, this.columns.length);
      const withSparse = this.sparse.map((column, s) => this.sparseProducts(column, s, whitened));
      whitened.forEach((column, b) => {
        out.push({
          products: products[b]!,
          withSparse: Float64Array.from(withSparse, (of) => of[b]!),
          norm: this.normOf(column, b),
        });
      });
    }
    return out;
  }

  /** Products of a sparse column with all rows.
   *  @param column whitened, by its places among the pixels that take part.
   */
  ofSparse({ at, values }: Column): Float64Array {
    const { kernels, stride } = this;
    const count = this.columns.length;
    const n = values.length;
    if (kernels === null) {
      const rows = this.rowsFrom(0, count, null);
      return Float64Array.from(rows, (row) => columnProduct(wholeColumn(row), { at, values }));
    }
    // Where columns are put before they are whitened there is room for both.
    const [toAt, toValues] = [this.valuesAt, this.valuesAt + 4 * n];
    kernels.integers(toAt, n).set(at!);
    kernels.floats(toValues, n).set(values);
    kernels.run.sparseProducts(toAt, toValues, n, this.rowsAt, 4 * stride, count, this.sumsAt);
    return kernels.doubles(this.sumsAt, count).slice();
  }

  /** Products of columns that are whole or wide, whitened, with one that is whitened. */
  withOne(columns: readonly Column[], one: Float32Array): Float64Array {
    const { kernels, stride, whole, batchAt } = this;
    const out = new Float64Array(columns.length);
    const from = batchAt + 4 * stride;
    kernels?.floats(batchAt, one.length).set(one);
    for (let k = 0; k < columns.length; k += BATCH - 1) {
      const some = this.whitenSome(columns.slice(k, k + BATCH - 1), 1);
      if (kernels === null) {
        some.forEach((column, b) => {
          out[k + b] = columnProduct(wholeColumn(column), wholeColumn(one));
        });
        continue;
      }
      const sums = kernels.doubles(this.sumsAt, SUMS * some.length).fill(0);
      kernels.run.addProducts(from, 4 * stride, some.length, batchAt, 0, 1, whole, this.sumsAt);
      some.forEach((column, b) => {
        out[k + b] = this.total(sums, SUMS * b, one, column);
      });
    }
    return out;
  }

  /** Products of one of the sparse nuisances with whitened columns, which stand in the batch. */
  private sparseProducts(column: Column, s: number, whitened: readonly Float32Array[]): Float64Array {
    const { kernels, stride } = this;
    const count = whitened.length;
    if (kernels === null) {
      return Float64Array.from(whitened, (other) => columnProduct(column, wholeColumn(other)));
    }
    const { at, values } = this.sparseAt[s]!;
    const n = column.values.length;
    kernels.run.sparseProducts(at, values, n, this.batchAt, 4 * stride, count, this.amountsAt);
    return kernels.doubles(this.amountsAt, count).slice();
  }

  /** Whiten a column that is whole or wide. */
  whitened(column: Column): Float32Array {
    return this.whitenSome([column])[0]!.slice();
  }

  /** Product of a whole or wide column, whitened, with one that covers some pixels only.
   *  @param sparse whitened, by its places among the pixels that take part.
   */
  withSparse({ at, values }: Column, sparse: Column): number {
    const places = this.placesIn(at);
    let sum = 0;
    for (let k = 0; k < sparse.values.length; k++) {
      const pixel = sparse.at![k]!;
      const place = places[pixel]!;
      const value = place < values.length ? values[place]! : 0;
      sum += sparse.values[k]! * Math.fround(value / this.sigma[pixel]!);
    }
    return sum;
  }

  private placesIn(at: Int32Array | null): Int32Array {
    return at === null ? this.pixels : this.wideBy(at).places;
  }

  /** @param columns no more than a batch. @param slot of the batch that the first goes to.
   *  @returns what stands in the batch; valid until something else does.
   */
  private whitenSome(columns: readonly Column[], slot = 0): Float32Array[] {
    const { kernels, stride, pixels } = this;
    if (kernels === null) {
      return columns.map((column) => this.plainWhiten(column));
    }
    columns.forEach((column, b) => {
      this.whiten(kernels, column, this.batchAt + 4 * stride * (slot + b));
    });
    return columns.map((_, b) => kernels.floats(this.batchAt + 4 * stride * (slot + b), pixels.length));
  }

  private plainWhiten({ at, values }: Column): Float32Array {
    const { pixels, sigma } = this;
    const places = this.placesIn(at);
    const out = new Float32Array(pixels.length);
    for (let k = 0; k < out.length; k++) {
      const place = places[k]!;
      out[k] = (place < values.length ? values[place]! : 0) / sigma[k]!;
    }
    return out;
  }

  private whiten(kernels: Kernels, { at, values }: Column, to: Address): void {
    const places = at === null ? this.pixelsAt : this.laidBy(at, kernels);
    const room = kernels.floats(this.valuesAt, values.length + 1);
    room.set(values);
    room[values.length] = 0;
    kernels.run.whiten(this.valuesAt, places, this.sigmaAt, this.pixels.length, to);
  }

  private wideBy(at: Int32Array): NonNullable<ColumnProducts["wide"]> {
    if (this.wide?.at !== at) {
      this.wide = { at, places: placesAmong(this.pixels, at), laid: null };
    }
    return this.wide;
  }

  private laidBy(at: Int32Array, kernels: Kernels): Address {
    const wide = this.wideBy(at);
    wide.laid ??= kernels.put(wide.places);
    return wide.laid;
  }

  /** @param at where the columns stand in the kernels' memory. @param count of the rows, from the first. */
  private productsOf(columns: readonly Float32Array[], at: Address, count: number): Float64Array[] {
    const { kernels, stride, whole } = this;
    const rows = this.rowsFrom(0, count, kernels);
    if (kernels === null) {
      return columns.map((column) =>
        Float64Array.from({ length: count }, (_, k) =>
          columnProduct(wholeColumn(rows[k]!), wholeColumn(column)),
        ),
      );
    }
    const sums = kernels.doubles(this.sumsAt, SUMS * count * columns.length).fill(0);
    for (let k = 0; k < whole; k += STRETCH) {
      const n = Math.min(STRETCH, whole - k);
      kernels.run.addProducts(
        at + 4 * k,
        4 * stride,
        columns.length,
        this.rowsAt + 4 * k,
        4 * stride,
        count,
        n,
        this.sumsAt,
      );
    }
    return columns.map((column, c) => {
      const out = new Float64Array(count);
      for (let k = 0; k < count; k++) out[k] = this.total(sums, SUMS * (c * count + k), rows[k]!, column);
      return out;
    });
  }

  private normOf(column: Float32Array, b: number): number {
    const { kernels, whole } = this;
    if (kernels === null) return columnProduct(wholeColumn(column), wholeColumn(column));
    const sums = kernels.doubles(this.sumsAt, SUMS).fill(0);
    const at = this.batchAt + 4 * this.stride * b;
    kernels.run.addSquares(at, 0, 1, whole, this.sumsAt);
    return this.total(sums, 0, column, column);
  }

  /** As `columnProduct` ends: what is left after the last four pixels goes to the first sum. */
  private total(sums: Float64Array, at: number, a: Float32Array, b: Float32Array): number {
    let first = sums[at]!;
    for (let k = this.whole; k < a.length; k++) first += a[k]! * b[k]!;
    return first + sums[at + 1]! + (sums[at + 2]! + sums[at + 3]!);
  }
}
