// sources: rise, its noise and the nuisance columns → inner products of heat columns with the nuisances taken out.
import { choleskyFactor, choleskySolve } from "../numeric/cholesky.js";
import type { NuisanceColumn } from "./nuisance-columns.js";

/** A heat column made ready: whitened, with its products with the nuisances and the data. */
export interface ProjectedColumn {
  /** Over the pixels that take part, ÷ noise. */
  readonly whitened: Float32Array;
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
  private readonly nuisance: readonly Float32Array[];
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
    this.data = this.whiten(data);
    this.nuisance = nuisance.map((column) => this.whiten(column.values));
    const m = nuisance.length;
    const gram = new Float64Array(m * m);
    for (let a = 0; a < m; a++) {
      for (let b = 0; b <= a; b++) {
        const product = dot(this.nuisance[a]!, this.nuisance[b]!);
        gram[a * m + b] = product;
        gram[b * m + a] = product;
      }
      gram[a * m + a]! += 1 / nuisance[a]!.priorSigma ** 2;
    }
    const factor = choleskyFactor(gram, m, 1e-12);
    if (factor === null) throw new Error("the nuisance columns are not independent");
    this.factor = factor;
    this.dataReduced = choleskySolve(factor, m, this.products(this.data));
  }

  /** How many pixels take part. */
  get count(): number {
    return this.pixels.length;
  }

  /** Make a heat column ready. */
  project(values: Float32Array): ProjectedColumn {
    const whitened = this.whiten(values);
    const nuisance = this.products(whitened);
    const reduced = choleskySolve(this.factor, this.nuisance.length, nuisance);
    return {
      whitened,
      nuisance,
      reduced,
      norm: dot(whitened, whitened) - dot(nuisance, reduced),
      withData: dot(whitened, this.data) - dot(nuisance, this.dataReduced),
    };
  }

  /** Product of two heat columns once the nuisances are taken out. */
  cross(a: ProjectedColumn, b: ProjectedColumn): number {
    return dot(a.whitened, b.whitened) - dot(a.nuisance, b.reduced);
  }

  /** Data minus heat minus nuisances, K per pixel; NaN where a pixel takes no part. */
  residual(columns: readonly ProjectedColumn[], amounts: ArrayLike<number>): Float32Array {
    const left = Float32Array.from(this.data);
    const coefficients = Float64Array.from(this.dataReduced);
    columns.forEach((column, c) => {
      const amount = amounts[c]!;
      if (amount === 0) return;
      subtract(left, column.whitened, amount);
      for (let k = 0; k < coefficients.length; k++) coefficients[k]! -= amount * column.reduced[k]!;
    });
    this.nuisance.forEach((column, k) => {
      subtract(left, column, coefficients[k]!);
    });
    return this.spread(left);
  }

  /** Sum of heat columns, K per pixel; 0 where a pixel takes no part. */
  heat(columns: readonly ProjectedColumn[], amounts: ArrayLike<number>): Float32Array {
    const sum = new Float32Array(this.pixels.length);
    columns.forEach((column, c) => {
      if (amounts[c]! !== 0) subtract(sum, column.whitened, -amounts[c]!);
    });
    return this.spread(sum).map((value) => (value * 0 === 0 ? value : 0));
  }

  private whiten(values: Float32Array): Float32Array {
    const out = new Float32Array(this.pixels.length);
    for (let k = 0; k < out.length; k++) out[k] = values[this.pixels[k]!]! / this.sigma[k]!;
    return out;
  }

  private spread(whitened: Float32Array): Float32Array {
    const out = new Float32Array(this.size).fill(Number.NaN);
    for (let k = 0; k < whitened.length; k++) out[this.pixels[k]!] = whitened[k]! * this.sigma[k]!;
    return out;
  }

  private products(whitened: Float32Array): Float64Array {
    return Float64Array.from(this.nuisance, (column) => dot(column, whitened));
  }
}

type Numbers = Float32Array | Float64Array;

/** Four running sums: the additions of one would each wait for the last. */
function dot(a: Numbers, b: Numbers): number {
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

function subtract(from: Float32Array, column: Float32Array, amount: number): void {
  for (let k = 0; k < from.length; k++) from[k]! -= amount * column[k]!;
}
