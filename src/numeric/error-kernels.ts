// numeric: the compiled kernels of errors.as → what each of them takes, as types.
import type { Address } from "./kernel-exports.js";

/** What src/numeric/kernels/errors.as exports; described there. */
export interface ErrorKernels {
  readonly addSquared: (
    base: Address,
    a: Address,
    factorA: number,
    b: Address,
    factorB: number,
    n: number,
    out: Address,
  ) => void;
  readonly gradientSize: (values: Address, width: number, height: number, out: Address) => void;
  readonly dipDepths: (
    own: Address,
    place: Address,
    around: Address,
    noise: Address,
    slope: Address,
    heat: Address,
    n: number,
    left: number,
    slopePx: number,
    growSigma: number,
    out: Address,
  ) => void;
  readonly standardise: (data: Address, variance: Address, marked: Address, n: number, out: Address) => void;
  readonly markCool: (
    shown: Address,
    heat: Address,
    variance: Address,
    n: number,
    warmSigma: number,
    coolShare: number,
    cool: Address,
  ) => void;
  readonly meanOver: (
    sums: Address,
    shares: Address,
    counts: Address,
    n: number,
    least: number,
    out: Address,
  ) => void;
  readonly usablePixels: (
    data: Address,
    variance: Address,
    n: number,
    pixels: Address,
    sigma: Address,
    place: Address,
  ) => number;
  readonly largestShare: (
    own: Address,
    rest: Address,
    n: number,
    upper: number,
    leastRest: number,
    found: Address,
  ) => number;
}
