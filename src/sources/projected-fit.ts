// sources: rise, its noise and the nuisance columns → inner products of heat columns with the nuisances taken out.
import { choleskyFactor, choleskySolve } from "../numeric/cholesky.js";
import { usablePixels } from "../numeric/pixel-errors.js";
import { addColumn, type Column, columnProduct, coversAll, wholeColumn } from "./column.js";
import { ColumnProducts } from "./column-products.js";
import { CrossProducts, innerProduct, type ProjectedColumn } from "./cross-products.js";
import type { NuisanceColumn } from "./nuisance-columns.js";

/** A weighted least-squares problem in which a set of nuisance columns with Gaussian priors is always fitted along.
 *  Products of heat columns are taken after projecting the nuisances out, so that any small set of heat columns
 *  can be solved for without touching the pixels again.
 */
export class ProjectedFit {
  private readonly rise: Float32Array;
  private readonly narrower = new Map<object, ProjectedFit>();
  private readonly pixels: Int32Array;
  private readonly size: number;
  private readonly sigma: Float32Array;
  private readonly data: Float32Array;
  /** Nuisances that cover some pixels only, whitened. */
  private readonly sparse: readonly Column[];
  /** Of the nuisances, those that cover all pixels, and then the data. */
  private readonly rows: ColumnProducts;
  /** Where a nuisance stands among the rows; −1 − its place among the others where it covers some pixels only. */
  private readonly rowOf: readonly number[];
  /** Where a pixel stands among those that take part; −1 where it does not. */
  private readonly place: Int32Array;
  private readonly known = new Map<Column, ProjectedColumn>();
  private readonly crosses: CrossProducts;
  private readonly factor: Float64Array;
  private readonly dataReduced: Float64Array;

  /** @param data K per pixel.
   *  @param variance K² per pixel; not finite or not positive = the pixel is left out.
   */
  constructor(
    data: Float32Array,
    private readonly variance: Float32Array,
    private readonly nuisance: readonly NuisanceColumn[],
  ) {
    this.rise = data;
    const { pixels, sigma, place } = usablePixels(data, variance);
    this.pixels = pixels;
    this.sigma = sigma;
    this.place = place;
    this.size = data.length;
    const columns = nuisance.map(({ column }) => column);
    const whole = columns.filter(coversAll);
    const sparse = columns.filter((column) => !coversAll(column)).map((column) => this.whiten(column));
    this.rows = new ColumnProducts(this.pixels, this.sigma, this.size, [...whole, wholeColumn(data)], sparse);
    this.crosses = new CrossProducts(this.rows);
    this.data = this.rows.row(whole.length);
    let [row, other] = [0, 0];
    this.rowOf = columns.map((column) => (coversAll(column) ? row++ : -1 - other++));
    this.sparse = sparse;
    const known = this.rows.gram();
    const withRows = sparse.map((column) => this.rows.ofSparse(column));
    const m = nuisance.length;
    const gram = new Float64Array(m * m);
    for (let a = 0; a < m; a++) {
      for (let b = 0; b <= a; b++) {
        const i = this.rowOf[a]!;
        const j = this.rowOf[b]!;
        let product: number;
        if (i >= 0 && j >= 0) product = known[i * (whole.length + 1) + j]!;
        else if (i >= 0) product = withRows[-1 - j]![i]!;
        else if (j >= 0) product = withRows[-1 - i]![j]!;
        else product = columnProduct(sparse[-1 - i]!, sparse[-1 - j]!);
        gram[a * m + b] = product;
        gram[b * m + a] = product;
      }
      gram[a * m + a]! += 1 / nuisance[a]!.priorSigma ** 2;
    }
    const factor = choleskyFactor(gram, m, 1e-12);
    if (factor === null) throw new Error("the nuisance columns are not independent");
    this.factor = factor;
    this.dataReduced = choleskySolve(
      factor,
      m,
      Float64Array.from(this.rowOf, (k) =>
        k < 0 ? withRows[-1 - k]![whole.length]! : known[k * (whole.length + 1) + whole.length]!,
      ),
    );
  }

  /** The same problem with more pixels left out; for the same key only once.
   *  @param change variance, K², not to be modified → that of the new problem.
   */
  leavingOut(key: object, change: (variance: Float32Array) => Float32Array): ProjectedFit {
    let made = this.narrower.get(key);
    if (made === undefined) {
      made = new ProjectedFit(this.rise, change(this.variance), this.nuisance);
      this.narrower.set(key, made);
    }
    return made;
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
    const whole = missing.filter(coversAll);
    const ready = this.rows.ready(whole);
    whole.forEach((column, c) => {
      const { products, withSparse, norm } = ready[c]!;
      const nuisance = new Float64Array(this.rowOf.length);
      for (let k = 0; k < nuisance.length; k++) {
        const row = this.rowOf[k]!;
        nuisance[k] = row < 0 ? withSparse[-1 - row]! : products[row]!;
      }
      this.known.set(column, this.reduce(column, null, nuisance, norm, products[products.length - 1]!));
    });
    for (const column of missing) {
      if (coversAll(column)) continue;
      const whitened = this.whiten(column);
      const products = this.rows.ofSparse(whitened);
      const nuisance = new Float64Array(this.rowOf.length);
      for (let k = 0; k < nuisance.length; k++) {
        const row = this.rowOf[k]!;
        nuisance[k] = row < 0 ? columnProduct(this.sparse[-1 - row]!, whitened) : products[row]!;
      }
      const norm = columnProduct(whitened, whitened);
      this.known.set(column, this.reduce(column, whitened, nuisance, norm, products[products.length - 1]!));
    }
  }

  /** Take the nuisances out of a column's products with itself and with the data. */
  private reduce(
    column: Column,
    whitened: Column | null,
    nuisance: Float64Array,
    norm: number,
    withData: number,
  ): ProjectedColumn {
    const reduced = choleskySolve(this.factor, this.rowOf.length, nuisance);
    return {
      column,
      whitened,
      nuisance,
      reduced,
      norm: norm - innerProduct(nuisance, reduced),
      withData: withData - innerProduct(nuisance, this.dataReduced),
    };
  }

  /** Product of two heat columns once the nuisances are taken out; the same two only once. */
  cross(a: ProjectedColumn, b: ProjectedColumn): number {
    return this.crosses.of(a, b);
  }

  /** Take the products that `cross` will be asked for: several together take less time than one by one.
   *  @param columns first of the two. @param others second of the two.
   */
  crossAll(columns: readonly ProjectedColumn[], others: readonly ProjectedColumn[]): void {
    this.crosses.takeAll(columns, others);
  }

  /** Data minus heat minus nuisances, K per pixel; NaN where a pixel takes no part. */
  residual(columns: readonly ProjectedColumn[], amounts: ArrayLike<number>): Float32Array {
    const left = this.data.slice();
    const coefficients = this.dataReduced.slice();
    columns.forEach((column, c) => {
      const amount = amounts[c]!;
      if (amount === 0) return;
      addColumn(left, this.crosses.whitened(column), -amount);
      for (let k = 0; k < coefficients.length; k++) coefficients[k]! -= amount * column.reduced[k]!;
    });
    for (let k = 0; k < this.rowOf.length; ) {
      const row = this.rowOf[k]!;
      if (row < 0) {
        addColumn(left, this.sparse[-1 - row]!, -coefficients[k]!);
        k++;
        continue;
      }
      const amounts: number[] = [];
      for (; k < this.rowOf.length && this.rowOf[k]! >= 0; k++) amounts.push(-coefficients[k]!);
      this.rows.addRows(left, row, amounts);
    }
    return this.spread(left);
  }

  /** Sum of heat columns, K per pixel; 0 where a pixel takes no part. */
  heat(columns: readonly ProjectedColumn[], amounts: ArrayLike<number>): Float32Array {
    const sum = new Float32Array(this.pixels.length);
    columns.forEach((column, c) => {
      if (amounts[c]! !== 0) addColumn(sum, this.crosses.whitened(column), amounts[c]!);
    });
    return this.spread(sum, 0);
  }

  /** Whiten a column that covers some pixels only: by places among the pixels that take part. */
  private whiten(column: Column): Column {
    const { values } = column;
    const at = column.at!;
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
}
