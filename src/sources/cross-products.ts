// sources: heat columns made ready → their products with each other once the nuisances are taken out.
import { type Column, columnProduct, coversAll, wholeColumn } from "./column.js";
import type { ColumnProducts } from "./column-products.js";

/** A heat column made ready: with its products with the nuisances and the data. */
export interface ProjectedColumn {
  /** As it was given. */
  readonly column: Column;
  /** Over the pixels that take part, ÷ noise; of one that covers all pixels null until it is asked for, since of most
   *  candidates nobody does.
   */
  whitened: Column | null;
  /** Products with the nuisance columns. */
  readonly nuisance: Float64Array;
  /** The same, through the inverse of the nuisances' own products. */
  readonly reduced: Float64Array;
  /** Squared length once the nuisances are taken out. */
  readonly norm: number;
  /** Product with the data once the nuisances are taken out. */
  readonly withData: number;
}

/** Products of pairs of columns, each computed once. */
export class CrossProducts {
  private readonly known = new Map<ProjectedColumn, Map<ProjectedColumn, number>>();

  constructor(private readonly rows: ColumnProducts) {}

  /** Product of two: in its last bit it may depend on which was given first when it was first asked for. */
  of(a: ProjectedColumn, b: ProjectedColumn): number {
    const row = this.rowOf(a);
    let product = row.get(b) ?? this.known.get(b)?.get(a);
    if (product === undefined) {
      product = this.whitenedProduct(a, b) - innerProduct(a.nuisance, b.reduced);
      row.set(b, product);
    }
    return product;
  }

  /** Take those of many columns with some, where both cover all pixels; the former are the first of the two. */
  takeAll(columns: readonly ProjectedColumn[], others: readonly ProjectedColumn[]): void {
    for (const other of others.filter(({ column }) => coversAll(column))) {
      const theirs = this.known.get(other);
      const missing = columns.filter(
        (one) =>
          one !== other &&
          coversAll(one.column) &&
          theirs?.has(one) !== true &&
          this.known.get(one)?.has(other) !== true,
      );
      if (missing.length < 2) continue;
      const products = this.rows.withOne(
        missing.map(({ column }) => column),
        this.whitened(other).values,
      );
      missing.forEach((one, k) => {
        this.rowOf(one).set(other, products[k]! - innerProduct(one.nuisance, other.reduced));
      });
    }
  }

  /** The column ÷ noise, over the pixels that take part. */
  whitened(one: ProjectedColumn): Column {
    one.whitened ??= wholeColumn(this.rows.whitened(one.column));
    return one.whitened;
  }

  private rowOf(one: ProjectedColumn): Map<ProjectedColumn, number> {
    let row = this.known.get(one);
    if (row === undefined) {
      row = new Map();
      this.known.set(one, row);
    }
    return row;
  }

  private whitenedProduct(a: ProjectedColumn, b: ProjectedColumn): number {
    const [whole, other] = a.whitened === null ? [a, b] : [b, a];
    // A column that covers all pixels and is not whitened yet need not be for one that covers a few.
    if (whole.whitened === null && other.whitened !== null && other.whitened.at !== null) {
      return this.rows.withSparse(whole.column, other.whitened);
    }
    return columnProduct(this.whitened(a), this.whitened(b));
  }
}

/** Sum of the products of two lists of numbers. */
export function innerProduct(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
  return sum;
}
