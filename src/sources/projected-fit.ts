// sources: rise, its noise and the nuisance columns → inner products of heat columns with the nuisances taken out.
import { choleskyFactor, choleskySolve } from "../numeric/cholesky.js";
import type { NuisanceColumn } from "./nuisance-columns.js";

/** A heat column made ready: weighted, with its products with the nuisances and the data. */
export interface ProjectedColumn {
  readonly values: Float32Array;
  /** Nᐟ¹ᐟ²-solved products with the nuisance columns. */
  readonly nuisance: Float64Array;
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
  /** χ² with the nuisances alone. */
  readonly baseChi2: number;
  private readonly pixels: Int32Array;
  private readonly weighted: Float64Array;
  private readonly nuisance: readonly NuisanceColumn[];
  private readonly factor: Float64Array;
  private readonly dataProducts: Float64Array;
  private readonly dataReduced: Float64Array;
  private readonly data: Float32Array;
  private readonly weights: Float64Array;

  /** @param data K per pixel.
   *  @param variance K² per pixel; not finite or not positive = the pixel is left out.
   */
  constructor(data: Float32Array, variance: Float32Array, nuisance: readonly NuisanceColumn[]) {
    const pixels: number[] = [];
    for (let i = 0; i < data.length; i++) {
      if (data[i]! * 0 === 0 && variance[i]! > 0 && variance[i]! * 0 === 0) pixels.push(i);
    }
    this.pixels = Int32Array.from(pixels);
    this.data = data;
    this.nuisance = nuisance;
    this.weights = Float64Array.from(pixels, (i) => 1 / variance[i]!);
    this.weighted = Float64Array.from(pixels, (i, k) => data[i]! * this.weights[k]!);
    const m = nuisance.length;
    const gram = new Float64Array(m * m);
    const scaled = new Float64Array(pixels.length);
    for (let a = 0; a < m; a++) {
      const values = nuisance[a]!.values;
      for (let k = 0; k < scaled.length; k++) scaled[k] = values[this.pixels[k]!]! * this.weights[k]!;
      for (let b = 0; b <= a; b++) {
        const other = nuisance[b]!.values;
        let sum = 0;
        for (let k = 0; k < scaled.length; k++) sum += scaled[k]! * other[this.pixels[k]!]!;
        gram[a * m + b] = sum;
        gram[b * m + a] = sum;
      }
      gram[a * m + a]! += 1 / nuisance[a]!.priorSigma ** 2;
    }
    const factor = choleskyFactor(gram, m, 1e-12);
    if (factor === null) throw new Error("the nuisance columns are not independent");
    this.factor = factor;
    this.dataProducts = this.products(this.weighted);
    this.dataReduced = choleskySolve(factor, m, this.dataProducts);
    let square = 0;
    for (let k = 0; k < pixels.length; k++) square += this.weighted[k]! * data[this.pixels[k]!]!;
    this.baseChi2 = square - dot(this.dataProducts, this.dataReduced);
  }

  /** How many pixels take part. */
  get count(): number {
    return this.pixels.length;
  }

  /** Make a heat column ready. */
  project(values: Float32Array): ProjectedColumn {
    const scaled = new Float64Array(this.pixels.length);
    let square = 0;
    let withData = 0;
    for (let k = 0; k < scaled.length; k++) {
      const i = this.pixels[k]!;
      scaled[k] = values[i]! * this.weights[k]!;
      square += scaled[k]! * values[i]!;
      withData += scaled[k]! * this.data[i]!;
    }
    const nuisance = this.products(scaled);
    const reduced = choleskySolve(this.factor, this.nuisance.length, nuisance);
    return {
      values,
      nuisance,
      reduced,
      norm: square - dot(nuisance, reduced),
      withData: withData - dot(nuisance, this.dataReduced),
    };
  }

  /** Product of two heat columns once the nuisances are taken out. */
  cross(a: ProjectedColumn, b: ProjectedColumn): number {
    let sum = 0;
    for (let k = 0; k < this.pixels.length; k++) {
      const i = this.pixels[k]!;
      sum += a.values[i]! * b.values[i]! * this.weights[k]!;
    }
    return sum - dot(a.nuisance, b.reduced);
  }

  /** Coefficients of the nuisance columns beside given heat. */
  nuisanceCoefficients(columns: readonly ProjectedColumn[], amounts: ArrayLike<number>): Float64Array {
    const out = Float64Array.from(this.dataReduced);
    columns.forEach((column, c) => {
      for (let k = 0; k < out.length; k++) out[k]! -= amounts[c]! * column.reduced[k]!;
    });
    return out;
  }

  /** Data minus heat minus nuisances, K per pixel; NaN where a pixel takes no part. */
  residual(columns: readonly ProjectedColumn[], amounts: ArrayLike<number>): Float32Array {
    const coefficients = this.nuisanceCoefficients(columns, amounts);
    const out = new Float32Array(this.data.length).fill(Number.NaN);
    for (const i of this.pixels) {
      let value = this.data[i]!;
      for (let c = 0; c < columns.length; c++) value -= amounts[c]! * columns[c]!.values[i]!;
      for (let c = 0; c < coefficients.length; c++) value -= coefficients[c]! * this.nuisance[c]!.values[i]!;
      out[i] = value;
    }
    return out;
  }

  private products(scaled: Float64Array): Float64Array {
    const out = new Float64Array(this.nuisance.length);
    for (let a = 0; a < out.length; a++) {
      const values = this.nuisance[a]!.values;
      let sum = 0;
      for (let k = 0; k < scaled.length; k++) sum += scaled[k]! * values[this.pixels[k]!]!;
      out[a] = sum;
    }
    return out;
  }
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
  return sum;
}
