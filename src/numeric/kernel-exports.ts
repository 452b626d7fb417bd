// numeric: the compiled kernels → what each of them takes, as types.

import type { ErrorKernels } from "./error-kernels.js";
import type { FilterKernels } from "./filter-kernels.js";
import type { SeriesKernels } from "./series-kernels.js";
import type { ShortListKernels } from "./short-list-kernels.js";

/** Place in a kernel's memory, bytes. */
export type Address = number;

type AddSteps = (
  data: Address,
  width: number,
  height: number,
  clear: Address,
  w: number,
  h: number,
  every: number,
  bands: number,
  sums: Address,
  counts: Address,
  line: Address,
) => void;

type OfTwoPictures = (a: Address, b: Address, n: number, out: Address) => void;

/** What src/numeric/kernels/*.as export; described there. */
export interface KernelExports extends ErrorKernels, FilterKernels, SeriesKernels, ShortListKernels {
  readonly memory: WebAssembly.Memory;
  readonly subtract: OfTwoPictures;
  readonly add: OfTwoPictures;
  readonly squaredDifference: OfTwoPictures;
  readonly fillFrom: OfTwoPictures;
  readonly linear: (a: Address, n: number, factor: number, plus: number, out: Address) => void;
  readonly divide: (a: Address, n: number, by: number, out: Address) => void;
  readonly differenceWhereRead: (a: Address, b: Address, readings: Address, n: number, out: Address) => void;
  readonly takeLines: (
    data: Address,
    width: number,
    height: number,
    columns: Address,
    rows: Address,
    out: Address,
  ) => void;
  readonly keepScene: (
    frame: Address,
    data: Address,
    mean: Address,
    variance: Address,
    n: number,
    floor: number,
    low: number,
    high: number,
    scene: Address,
    pattern: Address,
    share: Address,
  ) => void;
  readonly averageCells: (
    data: Address,
    frameWidth: number,
    side: number,
    width: number,
    height: number,
    columns: Address,
    rows: Address,
    out: Address,
  ) => void;
  readonly markClear: (slope: Address, n: number, stride: number, limit: number, clear: Address) => void;
  readonly findEdges: (
    data: Address,
    width: number,
    height: number,
    least: number,
    sparse: number,
    flat: Address,
    places: Address,
  ) => number;
  readonly steepness: (data: Address, width: number, height: number, out: Address) => void;
  readonly lineDetail: (data: Address, width: number, height: number, out: Address) => number;
  readonly raise: (top: Address, above: Address, below: Address, n: number) => void;
  readonly markReached: (top: Address, n: number, level: number, mask: Address) => void;
  readonly blockMiddles: (
    data: Address,
    wanted: Address,
    width: number,
    height: number,
    side: number,
    fewest: number,
    work: Address,
    out: Address,
  ) => void;
  readonly takeSurface: (
    data: Address,
    width: number,
    height: number,
    surface: Address,
    out: Address,
  ) => void;
  readonly sharedDetail: (
    a: Address,
    b: Address,
    width: number,
    height: number,
    marked: Address,
    sum: Address,
  ) => number;
  readonly shiftSteps: (
    data: Address,
    width: number,
    height: number,
    arm: number,
    across: Address,
    down: Address,
    turn: Address,
  ) => void;
  readonly blockEnergies: (
    residual: Address,
    variance: Address,
    width: number,
    height: number,
    side: number,
    out: Address,
  ) => number;
  readonly sortIntoClasses: (
    values: Address,
    slopes: Address,
    n: number,
    limits: Address,
    count: number,
    next: Address,
    members: Address,
  ) => void;
  readonly factorBand: (a: Address, n: number, band: number, column: Address) => void;
  readonly solveBand: (a: Address, n: number, band: number, x: Address) => void;
  readonly scale: (x: Address, count: number, by: number) => void;
  readonly showFour: (
    pixels: Address,
    count: number,
    cells: Address,
    weights: Address,
    shown: Address,
    x: Address,
    out: Address,
    size: number,
  ) => void;
  readonly addProducts: (
    a: Address,
    strideA: number,
    countA: number,
    b: Address,
    strideB: number,
    countB: number,
    n: number,
    sums: Address,
  ) => void;
  readonly addSquares: (a: Address, stride: number, count: number, n: number, sums: Address) => void;
  readonly addColumns: (
    left: Address,
    rows: Address,
    stride: number,
    count: number,
    amounts: Address,
    n: number,
  ) => void;
  readonly whiten: (values: Address, pixels: Address, sigma: Address, count: number, out: Address) => void;
  readonly sparseProducts: (
    at: Address,
    values: Address,
    n: number,
    rows: Address,
    stride: number,
    count: number,
    out: Address,
  ) => void;
  readonly readsOf: (
    width: number,
    height: number,
    a: number,
    b: number,
    c: number,
    d: number,
    e: number,
    f: number,
    at: Address,
  ) => void;
  readonly readWeights: (
    pixels: Address,
    count: number,
    width: number,
    a: number,
    b: number,
    c: number,
    d: number,
    e: number,
    f: number,
    weights: Address,
  ) => void;
  readonly raiseBorder: (
    data: Address,
    width: number,
    height: number,
    gain: Address,
    across: number,
    reach: number,
    usual: number,
  ) => void;
  readonly involved: (
    scale: Address,
    rise: Address,
    scene: Address,
    mirrors: Address,
    at: Address,
    width: number,
    height: number,
    noise2: number,
    shift2: number,
    near: Address,
    hidden: Address,
    showing: Address,
    reads: Address,
    inside: Address,
    compared: Address,
    detail: Address,
    weight: Address,
    counts: Address,
  ) => void;
  readonly mayStandOut: (data: Address, width: number, height: number, least: number, out: Address) => number;
  readonly medianDistances: (
    data: Address,
    width: number,
    height: number,
    step: number,
    near: Address,
    out: Address,
  ) => void;
  readonly columnSteps: AddSteps;
  readonly rowSteps: AddSteps;
  readonly everyFew: (values: Address, n: number, step: number, out: Address) => void;
  readonly sampleEdges: (
    moving: Address,
    width: number,
    height: number,
    x: Address,
    y: Address,
    count: number,
    a: number,
    b: number,
    c: number,
    d: number,
    e: number,
    f: number,
    value: Address,
    slopeX: Address,
    slopeY: Address,
  ) => void;
  readonly fitSums: (
    first: Address,
    second: Address,
    third: Address,
    picture: Address,
    count: number,
    a: number,
    b: number,
    c: number,
    cap: number,
    out: Address,
  ) => void;
  readonly mixThree: (
    first: Address,
    second: Address,
    third: Address,
    count: number,
    a: number,
    b: number,
    c: number,
    out: Address,
  ) => void;
  readonly sizesByCell: (
    residual: Address,
    cells: Address,
    count: number,
    sums: Address,
    counts: Address,
  ) => void;
  readonly meansOfCells: (
    sums: Address,
    counts: Address,
    cells: Address,
    count: number,
    out: Address,
  ) => void;
  readonly stepSums: (
    lists: Address,
    count: number,
    blocks: Address,
    numbers: Address,
    scores: Address,
    out: Address,
  ) => void;
  readonly leastRatio: (heat: Address, column: Address, variance: Address, n: number) => number;
  readonly solveHidden: (
    scale: Address,
    weight: Address,
    weights: Address,
    width: number,
    n: number,
    lists: Address,
    counts: Address,
    steps: number,
    pictures: Address,
    work: Address,
  ) => void;
  readonly scanRows: (
    text: Address,
    starts: Address,
    ends: Address,
    lines: number,
    separator: number,
    decimal: number,
    powers: Address,
    values: Address,
    counts: Address,
  ) => number;
  readonly countNumbers: (values: Address, n: number, kind: number) => number;
  readonly findRank: (
    values: Address,
    n: number,
    kind: number,
    centre: number,
    count: number,
    rank: number,
    next: number,
    work: Address,
    out: Address,
  ) => void;
  readonly allBetween: (values: Address, n: number, low: number, high: number) => number;
  readonly largest: (values: Address, n: number) => number;
  readonly markedPlaces: (mask: Address, n: number, out: Address) => number;
  readonly placesNotZero: (mask: Address, n: number, out: Address) => number;
  readonly placesOf: (values: Address, n: number, wanted: number, out: Address) => number;
  readonly unfilter: (raw: Address, rowBytes: number, rows: number, step: number) => number;
  readonly joinBytes: (raw: Address, samples: number, rows: number, out: Address) => void;
  readonly scaleLevels: (
    levels: Address,
    n: number,
    gain: number,
    offset: number,
    skip: number,
    maxLevel: number,
    out: Address,
    counts: Address,
  ) => void;
}
