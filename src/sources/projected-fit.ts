// sources: rise, its noise and the nuisance columns → inner products of heat columns with the nuisances taken out.
import { choleskyFactor, choleskySolve } from "../numeric/cholesky.js";
import { addColumn, type Column, columnProduct, wholeColumn } from "./column.js";
import { ColumnProducts } from "./column-products.js";
import type { NuisanceColumn } from "./nuisance-columns.js";

/** A heat column made ready: whitened, with its products with the nuisances and the data. */
export interface ProjectedColumn {
  /** Over the pixels that take part, ÷ noise. */
  readonly whitened: Column;
  /** Products with the nuisance columns. */
  readonly nuisance: Float64Array;
  /** The same, through the inverse of the nuisances' own products. */
  readonly reduced: Float64Array;
  /** Squared length once the nuisances are taken out. */
  readonly norm: number;
  /** Product with the data once the nuisances are taken out. */
  readonly withData: number;
}

/** A weighted least-squares problem in which a set of nuisance columns with Gaussian priors is always fitted along.
 *  Products of heat columns are taken after projecting the nuisances out, so that any small set of heat columns
 *  can be solved for without touching the pixels again.
 */
export class ProjectedFit {
  private readonly pixels: Int32Array;
  private readonly size: number;
  private readonly sigma: Float32Array;
  private readonly data: Float32Array;
  private readonly nuisance: readonly Column[];
  /** Of the nuisances, those that cover all pixels, and then the data. */
  private readonly rows: ColumnProducts;
  /** Where a nuisance stands among the rows; −1 where it covers some pixels only. */
  private readonly rowOf: readonly number[];
  /** Where a pixel stands among those that take part; −1 where it does not. */
  private readonly place: Int32Array;
  private readonly known = new Map<Column, ProjectedColumn>();
  private readonly crosses = new Map<ProjectedColumn, Map<ProjectedColumn, number>>();
  private readonly factor: Float64Array;
  private readonly dataReduced: Float64Array;

  /** @param data K per pixel.
   *  @param variance K² per pixel; not finite or not positive = the pixel is left out.
   */
  constructor(data: Float32Array, variance: Float32Array, nuisance: readonly NuisanceColumn[]) {
    const pixels = new Int32Array(data.length);
    const sigma = new Float32Array(data.length);
    this.place = new Int32Array(data.length).fill(-1);
    let count = 0;
    for (let i = 0; i < data.length; i++) {
      if (!(data[i]! * 0 === 0 && variance[i]! > 0 && variance[i]! * 0 === 0)) continue;
      sigma[count] = Math.sqrt(variance[i]!);
      this.place[i] = count;
      pixels[count++] = i;
    }
    this.pixels = pixels.slice(0, count);
    this.sigma = sigma.slice(0, count);
    this.size = data.length;
    this.data = this.whiten(wholeColumn(data)).values;
    this.nuisance = nuisance.map((column) => this.whiten(column.column));
    const whole = this.nuisance.filter(({ at }) => at === null);
    let row = 0;
    this.rowOf = this.nuisance.map(({ at }) => (at === null ? row++ : -1));
    this.rows = new ColumnProducts(this.pixels, this.sigma, this.size, [
      ...whole.map(({ values }) => values),
      this.data,
    ]);
    const known = this.rows.gram();
    const m = nuisance.length;
    const gram = new Float64Array(m * m);
    for (let a = 0; a < m; a++) {
      for (let b = 0; b <= a; b++) {
        const [i, j] = [this.rowOf[a]!, this.rowOf[b]!];
        const product =
          i < 0 || j < 0
            ? columnProduct(this.nuisance[a]!, this.nuisance[b]!)
            : known[i * (whole.length + 1) + j]!;
        gram[a * m + b] = product;
        gram[b * m + a] = product;
      }
      gram[a * m + a]! += 1 / nuisance[a]!.priorSigma ** 2;
    }
    const factor = choleskyFactor(gram, m, 1e-12);
    if (factor === null) throw new Error("the nuisance columns are not independent");
    this.factor = factor;
    this.dataReduced = choleskySolve(factor, m, this.products(wholeColumn(this.data)));
  }

  /** How many pixels take part. */
  get count(): number {
    return this.pixels.length;
  }

  /** Make a heat column ready; the same column only once. */
  project(column: Column): ProjectedColumn {
    this.projectAll([column]);
    return this.known.get(column)!;
  }

  /** Make heat columns ready that are not yet: several together take less time than one by one. */
  projectAll(columns: readonly Column[]): void {
    const missing = [...new Set(columns)].filter((column) => !this.known.has(column));
    const whole = missing.filter(({ at }) => at === null);
    const ready = this.rows.ready(whole.map(({ values }) => values));
    whole.forEach((column, c) => {
      const { whitened, products, norm } = ready[c]!;
      const own = wholeColumn(whitened);
      const nuisance = Float64Array.from(this.nuisance, (other, k) => {
        const row = this.rowOf[k]!;
        return row < 0 ? columnProduct(other, own) : products[row]!;
      });
      this.known.set(column, this.reduce(own, nuisance, norm, products[products.length - 1]!));
    });
    for (const column of missing) {
      if (column.at === null) continue;
      const whitened = this.whiten(column);
      this.known.set(
        column,
        this.reduce(
          whitened,
          this.products(whitened),
          columnProduct(whitened, whitened),
          columnProduct(whitened, wholeColumn(this.data)),
        ),
      );
    }
  }

  /** Take the nuisances out of a column's products with itself and with the data. */
  private reduce(whitened: Column, nuisance: Float64Array, norm: number, withData: number): ProjectedColumn {
    const reduced = choleskySolve(this.factor, this.nuisance.length, nuisance);
    return {
      whitened,
      nuisance,
      reduced,
      norm: norm - innerProduct(nuisance, reduced),
      withData: withData - innerProduct(nuisance, this.dataReduced),
    };
  }

  /** Product of two heat columns once the nuisances are taken out; the same two only once. */
  cross(a: ProjectedColumn, b: ProjectedColumn): number {
    let row = this.crosses.get(a);
    if (row === undefined) {
      row = new Map();
      this.crosses.set(a, row);
    }
    let product = row.get(b) ?? this.crosses.get(b)?.get(a);
    if (product === undefined) {
      product = columnProduct(a.whitened, b.whitened) - innerProduct(a.nuisance, b.reduced);
      row.set(b, product);
    }
    return product;
  }

  /** Data minus heat minus nuisances, K per pixel; NaN where a pixel takes no part. */
  residual(columns: readonly ProjectedColumn[], amounts: ArrayLike<number>): Float32Array {
    const left = this.data.slice();
    const coefficients = this.dataReduced.slice();
    columns.forEach((column, c) => {
      const amount = amounts[c]!;
      if (amount === 0) return;
      addColumn(left, column.whitened, -amount);
      for (let k = 0; k < coefficients.length; k++) coefficients[k]! -= amount * column.reduced[k]!;
    });
    for (let k = 0; k < this.nuisance.length; ) {
      const row = this.rowOf[k]!;
      if (row < 0) {
        addColumn(left, this.nuisance[k]!, -coefficients[k]!);
        k++;
        continue;
      }
      const amounts: number[] = [];
      for (; k < this.nuisance.length && this.rowOf[k]! >= 0; k++) amounts.push(-coefficients[k]!);
      this.rows.addRows(left, row, amounts);
    }
    return this.spread(left);
  }

  /** Sum of heat columns, K per pixel; 0 where a pixel takes no part. */
  heat(columns: readonly ProjectedColumn[], amounts: ArrayLike<number>): Float32Array {
    const sum = new Float32Array(this.pixels.length);
    columns.forEach((column, c) => {
      if (amounts[c]! !== 0) addColumn(sum, column.whitened, amounts[c]!);
    });
    return this.spread(sum, 0);
  }

  private whiten({ at, values }: Column): Column {
    if (at === null) {
      const out = new Float32Array(this.pixels.length);
      for (let k = 0; k < out.length; k++) out[k] = values[this.pixels[k]!]! / this.sigma[k]!;
      return wholeColumn(out);
    }
    const kept = new Int32Array(at.length);
    const out = new Float32Array(at.length);
    let count = 0;
    for (let k = 0; k < at.length; k++) {
      const place = this.place[at[k]!]!;
      if (place < 0) continue;
      kept[count] = place;
      out[count++] = values[k]! / this.sigma[place]!;
    }
    return { at: kept.slice(0, count), values: out.slice(0, count) };
  }

  private spread(whitened: Float32Array, elsewhere = Number.NaN): Float32Array {
    const out = new Float32Array(this.size).fill(elsewhere);
    for (let k = 0; k < whitened.length; k++) out[this.pixels[k]!] = whitened[k]! * this.sigma[k]!;
    return out;
  }

  private products(whitened: Column): Float64Array {
    return Float64Array.from(this.nuisance, (column) => columnProduct(column, whitened));
  }
}

function innerProduct(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
  return sum;
}
