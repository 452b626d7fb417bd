// sources: rise, its noise and the nuisance columns → inner products of heat columns with the nuisances taken out.
import { choleskyFactor, choleskySolve } from "../numeric/cholesky.js";
import { addColumn, type Column, columnProduct, wholeColumn } from "./column.js";
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
    const pixels: number[] = [];
    for (let i = 0; i < data.length; i++) {
      if (data[i]! * 0 === 0 && variance[i]! > 0 && variance[i]! * 0 === 0) pixels.push(i);
    }
    this.pixels = Int32Array.from(pixels);
    this.size = data.length;
    this.sigma = Float32Array.from(pixels, (i) => Math.sqrt(variance[i]!));
    this.place = new Int32Array(data.length).fill(-1);
    for (let k = 0; k < pixels.length; k++) this.place[pixels[k]!] = k;
    this.data = this.whiten(wholeColumn(data)).values;
    this.nuisance = nuisance.map((column) => this.whiten(column.column));
    const m = nuisance.length;
    const gram = new Float64Array(m * m);
    for (let a = 0; a < m; a++) {
      for (let b = 0; b <= a; b++) {
        const product = columnProduct(this.nuisance[a]!, this.nuisance[b]!);
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
    let projected = this.known.get(column);
    if (projected === undefined) {
      const whitened = this.whiten(column);
      const nuisance = this.products(whitened);
      const reduced = choleskySolve(this.factor, this.nuisance.length, nuisance);
      projected = {
        whitened,
        nuisance,
        reduced,
        norm: columnProduct(whitened, whitened) - innerProduct(nuisance, reduced),
        withData: columnProduct(whitened, wholeColumn(this.data)) - innerProduct(nuisance, this.dataReduced),
      };
      this.known.set(column, projected);
    }
    return projected;
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
    const left = Float32Array.from(this.data);
    const coefficients = Float64Array.from(this.dataReduced);
    columns.forEach((column, c) => {
      const amount = amounts[c]!;
      if (amount === 0) return;
      addColumn(left, column.whitened, -amount);
      for (let k = 0; k < coefficients.length; k++) coefficients[k]! -= amount * column.reduced[k]!;
    });
    this.nuisance.forEach((column, k) => {
      addColumn(left, column, -coefficients[k]!);
    });
    return this.spread(left);
  }

  /** Sum of heat columns, K per pixel; 0 where a pixel takes no part. */
  heat(columns: readonly ProjectedColumn[], amounts: ArrayLike<number>): Float32Array {
    const sum = new Float32Array(this.pixels.length);
    columns.forEach((column, c) => {
      if (amounts[c]! !== 0) addColumn(sum, column.whitened, amounts[c]!);
    });
    return this.spread(sum).map((value) => (value * 0 === 0 ? value : 0));
  }

  private whiten({ at, values }: Column): Column {
    if (at === null) {
      const out = new Float32Array(this.pixels.length);
      for (let k = 0; k < out.length; k++) out[k] = values[this.pixels[k]!]! / this.sigma[k]!;
      return wholeColumn(out);
    }
    const places = at.map((pixel) => this.place[pixel]!);
    const kept = places.filter((k) => k >= 0);
    const out = new Float32Array(kept.length);
    for (let k = 0, n = 0; k < places.length; k++) {
      if (places[k]! >= 0) out[n++] = values[k]! / this.sigma[places[k]!]!;
    }
    return { at: kept, values: out };
  }

  private spread(whitened: Float32Array): Float32Array {
    const out = new Float32Array(this.size).fill(Number.NaN);
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
