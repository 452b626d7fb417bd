// numeric: picture and an affine map → the picture resampled on another pixel grid.
import { bridgeHoles } from "./bridge-holes.js";
import { sharedKernels } from "./kernels.js";
import { splineCoefficients } from "./spline-coefficients.js";
import { warpAt } from "./warp-by-kernel.js";

/** `[a, b, c, d, e, f]`: output pixel (x, y) is read at input position (a·x + b·y + c, d·x + e·y + f), px. */
export type AffineMatrix = readonly [number, number, number, number, number, number];

/** How `warpRaster` reads between pixels. */
export type WarpOrder = "linear" | "cubic" | "spline";

/** Options of `warpRaster`. */
export interface WarpOptions {
  /** `linear`: 2×2 pixels; `cubic`: 4×4, local; `spline`: 4×4 after a prefilter, the most faithful. Default `cubic`. */
  readonly order?: WarpOrder;
  /** Where the result goes, width×height; not `data`. */
  readonly out?: Float32Array;
}

/** Defaults of `warpRaster`. */
const WARP_DEFAULTS = Object.freeze({
  /** Local, so a dead pixel stays small, and far less blur than linear. */
  order: "cubic" as WarpOrder,
});

/** Positions this near to a whole pixel (or to the border) count as on it, px: rounding of a matrix, not a shift. */
const ON_PIXEL = 1e-9;

/** Resample a picture through an affine map; the result has the size of the input.
 *  NaN wherever the position lies outside the pixel centres of the input or an input pixel that has weight is NaN.
 *  Taps just beyond the border are mirrored about the border pixel.
 *  Method: `cubic` is Keys 1981, IEEE Trans. Acoust. Speech Signal Process. 29:1153, doi 10.1109/TASSP.1981.1163711
 *  (DOI from memory), a = −1/2; differs: mirrored border. `spline` is the interpolating cubic B-spline, see
 *  `splineCoefficients`.
 *  @param data any unit, row-major, NaN = no reading; not modified.
 *  @param matrix maps OUTPUT pixels to INPUT positions; to move content by (+dx, +dy) use [1, 0, −dx, 0, 1, −dy].
 *  @returns same unit, width×height.
 *  @throws RangeError if the size does not fit or the matrix is not finite (a fault of the caller).
 */
export function warpRaster(
  data: Float32Array | Float64Array,
  width: number,
  height: number,
  matrix: AffineMatrix,
  options: WarpOptions = {},
): Float32Array {
  const order = options.order ?? WARP_DEFAULTS.order;
  const out = options.out ?? new Float32Array(width * height);
  if (data.length !== width * height || out.length !== data.length) {
    throw new RangeError(`${width}×${height} does not fit ${data.length} values in and ${out.length} out`);
  }
  if (!matrix.every(Number.isFinite)) throw new RangeError(`not a finite matrix: ${matrix.join(" ")}`);
  if (out === data) throw new RangeError("out must not be the input");
  const kernels = data instanceof Float32Array ? sharedKernels() : null;
  if (kernels !== null) {
    const from = kernels.put(data as Float32Array);
    out.set(kernels.floats(warpAt(kernels, from, width, height, matrix, order), out.length));
    return out;
  }
  const known = knownMask(data);
  // Holes are bridged for the sums and marked again after them: NaN times a weight of zero would be NaN.
  const source =
    order === "spline"
      ? splineCoefficients(data, width, height)
      : known === null
        ? data
        : bridgeHoles(data, width, height);
  const plan: Plan = { data, source, known, width, height, matrix, out };
  const weightX = new Float64Array(4);
  const weightY = new Float64Array(4);
  for (let y = 0; y < height; y++) warpRow(plan, y, order, weightX, weightY);
  return out;
}

/** What all rows share. Each row is a call of its own: a run that warps two pictures has fast code for the third
 *  row. */
interface Plan {
  readonly data: Float32Array | Float64Array;
  /** What is read between pixels. */
  readonly source: Float32Array | Float64Array;
  /** 1 = a reading; null without holes. */
  readonly known: Uint8Array | null;
  readonly width: number;
  readonly height: number;
  readonly matrix: AffineMatrix;
  readonly out: Float32Array;
}

/** One row of the result. */
function warpRow(
  { data, source, known, width, height, matrix, out }: Plan,
  y: number,
  order: WarpOrder,
  weightX: Float64Array,
  weightY: Float64Array,
): void {
  const [a, b, c, d, e, f] = matrix;
  const endX = width - 1 + ON_PIXEL;
  const endY = height - 1 + ON_PIXEL;
  const reach = order === "linear" ? 1 : 2;
  for (let x = 0, i = y * width; x < width; x++, i++) {
    const atX = a * x + b * y + c;
    const atY = d * x + e * y + f;
    if (!(atX >= -ON_PIXEL && atX <= endX && atY >= -ON_PIXEL && atY <= endY)) {
      out[i] = Number.NaN;
      continue;
    }
    const column = Math.floor(atX + ON_PIXEL);
    const row = Math.floor(atY + ON_PIXEL);
    const offX = atX - column < ON_PIXEL ? 0 : atX - column;
    const offY = atY - row < ON_PIXEL ? 0 : atY - row;
    if (offX === 0 && offY === 0) {
      out[i] = data[row * width + column]!;
      continue;
    }
    const reachX = offX > 0 ? reach : 0;
    const reachY = offY > 0 ? reach : 0;
    if (known !== null && !allKnown(known, width, height, column, row, reachX, reachY)) {
      out[i] = Number.NaN;
      continue;
    }
    if (order === "linear") {
      out[i] = readBetween(source, row * width + column, reachX, reachY * width, offX, offY);
      continue;
    }
    if (order === "spline") {
      splineTaps(offX, weightX);
      splineTaps(offY, weightY);
    } else {
      keysTaps(offX, weightX);
      keysTaps(offY, weightY);
    }
    out[i] =
      column >= 1 && column < width - 2 && row >= 1 && row < height - 2
        ? readInside(source, width, (row - 1) * width + column - 1, weightX, weightY)
        : readAtBorder(source, width, height, column, row, weightX, weightY);
  }
}

/** Weighted sum of 2×2 pixels: `k` and those one step to the right and below, where these have weight. */
function readBetween(
  source: Float32Array | Float64Array,
  k: number,
  right: number,
  down: number,
  offX: number,
  offY: number,
): number {
  const below = k + down;
  const upper = (1 - offX) * source[k]! + offX * source[k + right]!;
  const lower = (1 - offX) * source[below]! + offX * source[below + right]!;
  return (1 - offY) * upper + offY * lower;
}

/** Weighted sum of 4×4 pixels that all lie in the picture, from the upper left one on. */
function readInside(
  source: Float32Array | Float64Array,
  width: number,
  first: number,
  weightX: Float64Array,
  weightY: Float64Array,
): number {
  const w0 = weightX[0]!;
  const w1 = weightX[1]!;
  const w2 = weightX[2]!;
  const w3 = weightX[3]!;
  let sum = 0;
  for (let k = 0, i = first; k < 4; k++, i += width) {
    sum += weightY[k]! * (w0 * source[i]! + w1 * source[i + 1]! + w2 * source[i + 2]! + w3 * source[i + 3]!);
  }
  return sum;
}

/** The same where some of them are mirrored about the border. */
function readAtBorder(
  source: Float32Array | Float64Array,
  width: number,
  height: number,
  column: number,
  row: number,
  weightX: Float64Array,
  weightY: Float64Array,
): number {
  let sum = 0;
  for (let k = 0; k < 4; k++) {
    const start = mirror(row + k - 1, height) * width;
    let line = 0;
    for (let j = 0; j < 4; j++) line += weightX[j]! * source[start + mirror(column + j - 1, width)]!;
    sum += weightY[k]! * line;
  }
  return sum;
}

/** Null if there are no holes, else 1 where there is a reading. */
function knownMask(data: Float32Array | Float64Array): Uint8Array | null {
  if (!data.includes(Number.NaN)) return null;
  const known = new Uint8Array(data.length);
  for (let i = 0; i < data.length; i++) known[i] = Number.isNaN(data[i]!) ? 0 : 1;
  return known;
}

/** True if every pixel that has weight is a reading; a reach of 0 means that only the one column or row has. */
function allKnown(
  known: Uint8Array,
  width: number,
  height: number,
  column: number,
  row: number,
  reachX: number,
  reachY: number,
): boolean {
  const firstX = reachX === 0 ? column : column + 1 - reachX;
  const firstY = reachY === 0 ? row : row + 1 - reachY;
  for (let y = firstY; y <= row + reachY; y++) {
    const start = mirror(y, height) * width;
    for (let x = firstX; x <= column + reachX; x++) if (known[start + mirror(x, width)] === 0) return false;
  }
  return true;
}

/** Reflect an index about the first and the last pixel; whole-sample symmetry, as in the spline's prefilter. */
function mirror(index: number, length: number): number {
  let at = index < 0 ? -index : index;
  if (at >= length) at = 2 * (length - 1) - at;
  // Only pictures of one or two pixels reflect more than once.
  return Math.max(at, 0);
}

/** Weights of the pixels at −1, 0, 1, 2 for a position `t` after pixel 0, 0 ≤ t < 1. */
function keysTaps(t: number, weights: Float64Array): void {
  weights[0] = t * (-0.5 + t * (1 - 0.5 * t));
  weights[1] = 1 + t * t * (-2.5 + 1.5 * t);
  weights[2] = t * (0.5 + t * (2 - 1.5 * t));
  weights[3] = t * t * (-0.5 + 0.5 * t);
}

function splineTaps(t: number, weights: Float64Array): void {
  const s = 1 - t;
  weights[0] = (s * s * s) / 6;
  weights[1] = 2 / 3 - t * t * (1 - 0.5 * t);
  weights[2] = 2 / 3 - s * s * (1 - 0.5 * s);
  weights[3] = (t * t * t) / 6;
}
