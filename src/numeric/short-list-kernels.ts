// numeric: the compiled kernels over short lists → what each of them takes, as types.
import type { Address } from "./kernel-exports.js";

/** What src/numeric/kernels/short-lists.as and spots.as export; described there. */
export interface ShortListKernels {
  readonly addScores: (scores: Address, blocks: number, sums: Address, products: Address) => void;
  readonly agreedSteps: (
    sums: Address,
    counts: Address,
    lines: number,
    bands: number,
    minPairs: number,
    means: Address,
    out: Address,
  ) => void;
  readonly readEdges: (
    shape: Address,
    places: Address,
    count: number,
    width: number,
    value: Address,
    slopeX: Address,
    slopeY: Address,
  ) => void;
  readonly gateEdges: (
    places: Address,
    count: number,
    width: number,
    slopeX: Address,
    slopeY: Address,
    half: number,
    x: Address,
    y: Address,
    gate: Address,
  ) => void;
  readonly placesIn: (
    x: Address,
    y: Address,
    count: number,
    side: number,
    across: number,
    each: number,
    out: Address,
  ) => void;
  readonly squaredSlopes: (data: Address, width: number, n: number, step: number, out: Address) => void;
  readonly lineProducts: (fine: Address, wide: Address, reach: number, length: number, out: Address) => void;
  readonly crossGains: (across: Address, width: number, down: Address, height: number, out: Address) => void;
  readonly splineTaps: (length: number, side: number, first: Address, weights: Address) => void;
  readonly ringLevel: (
    data: Address,
    width: number,
    x0: number,
    x1: number,
    y0: number,
    y1: number,
    cx: number,
    cy: number,
    inner2: number,
    outer2: number,
  ) => number;
  readonly spotMoments: (
    data: Address,
    width: number,
    x0: number,
    x1: number,
    y0: number,
    y1: number,
    cx: number,
    cy: number,
    level: number,
    scale: number,
    out: Address,
  ) => void;
}
