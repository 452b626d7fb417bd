// numeric: the compiled kernels that smooth, resample and sort pictures → what each of them takes, as types.
import type { Address } from "./kernel-exports.js";

type FilterLines = (
  c: Address,
  width: number,
  height: number,
  pole: number,
  whole: number,
  atEnd: number,
  atLast: number,
) => void;

/** What filters.as, holes.as, noise-classes.as, resample.as, spline.as and wide.as in src/numeric/kernels export;
 *  described there. */
export interface FilterKernels {
  readonly smooth: (
    data: Address,
    width: number,
    height: number,
    half: Address,
    radius: number,
    inX: Address,
    inY: Address,
    line: Address,
    values: Address,
    weights: Address,
    sums: Address,
    out: Address,
    way: number,
  ) => void;
  readonly convolveLine: (line: Address, width: number, half: Address, radius: number, out: Address) => void;
  readonly smoothSome: (
    data: Address,
    width: number,
    height: number,
    half: Address,
    radius: number,
    inX: Address,
    inY: Address,
    line: Address,
    values: Address,
    step: number,
    out: Address,
  ) => void;
  readonly smoothWide: (
    data: Address,
    weights: Address,
    width: number,
    height: number,
    firstX: Address,
    tapsX: Address,
    firstY: Address,
    tapsY: Address,
    w: number,
    h: number,
    half: Address,
    radius: number,
    cells: Address,
    work: Address,
    line: Address,
    out: Address,
  ) => void;
  readonly promote: (from: Address, n: number, to: Address) => void;
  readonly markKnown: (data: Address, n: number, known: Address) => void;
  readonly countMissing: (data: Address, n: number) => number;
  readonly bridgeHoles: (values: Address, width: number, height: number) => void;
  readonly filterRows: FilterLines;
  readonly filterColumns: FilterLines;
  readonly warp: (
    data: Address,
    source: Address,
    filled: number,
    known: Address,
    width: number,
    height: number,
    a: number,
    b: number,
    c: number,
    d: number,
    e: number,
    f: number,
    order: number,
    out: Address,
  ) => void;
  readonly sortNumbers: (values: Address, n: number, other: Address, tally: Address) => void;
  readonly sortPositive: (values: Address, n: number, other: Address, tally: Address) => number;
  readonly pickKnown: (
    data: Address,
    gradient: Address,
    n: number,
    step: number,
    values: Address,
    slopes: Address,
  ) => number;
  readonly readClasses: (
    centres: Address,
    sigmas: Address,
    classes: number,
    growth: number,
    gradient: Address,
    n: number,
    table: Address,
    out: Address,
  ) => void;
}
