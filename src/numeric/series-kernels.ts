// numeric: the compiled kernels that take a series of frames → what each of them takes, as types.
import type { Address } from "./kernel-exports.js";

/** What src/numeric/kernels/series.as exports; described there. */
export interface SeriesKernels {
  readonly successive: (
    stack: Address,
    stride: number,
    from: number,
    count: number,
    frames: number,
    pixels: number,
    offsets: Address,
    meanOffset: number,
    state: Address,
    noise: Address,
    mean: Address,
    odd: Address,
  ) => void;
  readonly steadyMean: (
    stack: Address,
    stride: number,
    count: number,
    pixels: number,
    offsets: Address,
    meanOffset: number,
    limit: number,
    mean: Address,
    odd: Address,
  ) => void;
  readonly leftSquares: (
    stack: Address,
    stride: number,
    from: number,
    count: number,
    frames: number,
    pixels: number,
    offsets: Address,
    courses: Address,
    courseCount: number,
    values: Address,
    state: Address,
    squares: Address,
  ) => void;
  readonly weighFrame: (
    data: Address,
    n: number,
    weight: number,
    offset: number,
    sums: Address,
    missing: Address,
  ) => void;
  readonly cellMeans: (
    data: Address,
    width: number,
    side: number,
    w: number,
    h: number,
    out: Address,
  ) => void;
}
