// align: band-passed shapes → the pixels at their edges, with values and slopes, in lists.
import { evenStride } from "../numeric/even-stride.js";
import { type Kernels, sharedKernels } from "../numeric/kernels.js";
import { median } from "../numeric/median.js";

/** Squared slope at which a pixel counts half, × the frame's median squared slope. Of pixels that show noise and pattern alone one in
 *  sixteen counts then at all (at 9 one in eight did, and they held weak boards at zero: their slopes are the pattern's). Halved or doubled,
 *  the median error of 50 pairs of usual boards is 0.0168 or 0.0183 px, of 0.0172. */
const GATE_FACTOR = 12;
/** Pixels that count less than this are left out: they are many, and say next to nothing. */
const LEAST_GATE = 0.1;
/** Where there is nothing but noise and pattern, squared slopes are distributed exponentially: mean gate of a pixel, and mean of gate ×
 *  squared slope in units of its mean, with the two constants above (∫ g e⁻ˣ dx and ∫ g x e⁻ˣ dx, g = x²/(x² + (12 ln 2)²), from
 *  x = 4 ln 2 on). */
const NOISE_GATE = 0.01076;
const NOISE_SLOPE = 0.04521;
/** Above this number of pixels in the frame every other one is taken, like the white squares of a chessboard: after
 *  the band-pass neighbours hold the same noise, so that nothing is lost. */
const MOST_WHOLE_PIXELS = 30_000;
/** The median slope is taken over so many pixels at most. */
const SLOPE_SAMPLE = 12_000;

/** Pixels at edges, in reading order. */
export interface EdgeSamples {
  readonly count: number;
  readonly x: Float32Array;
  readonly y: Float32Array;
  /** How far the pixel's slope stands above the frame's usual one, 0…1. */
  readonly gate: Float32Array;
  /** Value and slopes (per px) of each shape. */
  readonly shapes: readonly {
    readonly value: Float32Array;
    readonly slopeX: Float32Array;
    readonly slopeY: Float32Array;
  }[];
}

/** Where a picture has edges. */
export interface Edges {
  /** Indices of pixels at edges of the board, rising. */
  readonly places: Int32Array;
  /** 1 = clear of edges, with readings on all four sides. */
  readonly flat: Uint8Array;
  /** How many pixels with readings on the board were looked at, about: of large frames half of them. What noise makes of them is
   *  as much as there are. */
  readonly sites: number;
  /** Squared slope (over two pixels) at which a pixel counts half, squared. */
  readonly half: number;
}

/** Find the pixels at edges.
 *  Flat parts hold what the sensor's pattern left, which stays put when the board moves: many weak slopes would hold
 *  the answer at zero.
 *  @param template band-passed, width×height, NaN = left out; not modified.
 *  @param beside 1 = off the board, a bench that may have structure of its own; null if unknown.
 */
export function findEdges(
  template: Float32Array,
  width: number,
  height: number,
  beside: Uint8Array | null = null,
): Edges {
  // A picture without any slope has no edge: above 0, so that nothing is divided by it.
  const half = (GATE_FACTOR * usualSlope2(template, width, beside)) ** 2 + 1e-30;
  const least = Math.sqrt((half * LEAST_GATE) / (1 - LEAST_GATE));
  const sparse = width * height > MOST_WHOLE_PIXELS;
  const sites = readingsOn(template, width, beside) * (sparse ? 0.5 : 1);
  const kernels = sharedKernels();
  if (kernels !== null) {
    const from = kernels.put(template);
    const [clear, found] = [kernels.put(new Uint8Array(width * height)), kernels.take(4 * width * height)];
    const count = kernels.run.findEdges(from, width, height, least, sparse ? 1 : 0, clear, found);
    return {
      places: onBoard(kernels.integers(found, count).slice(), beside),
      flat: kernels.bytes(clear, width * height).slice(),
      sites,
      half,
    };
  }
  const flat = new Uint8Array(width * height);
  const places = new Int32Array(width * height);
  let count = 0;
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1, i = y * width + 1; x < width - 1; x++, i++) {
      const across = template[i + 1]! - template[i - 1]!;
      const down = template[i + width]! - template[i - width]!;
      const s = across * across + down * down;
      if (s < least) flat[i] = 1;
      else if (s >= least && template[i]! * 0 === 0 && !(sparse && ((x + y) & 1) === 1)) places[count++] = i;
    }
  }
  return { places: onBoard(places.slice(0, count), beside), flat, sites, half };
}

/** Places without those beside the board: a board that is nudged leaves what it lies on where it was. */
function onBoard(places: Int32Array, beside: Uint8Array | null): Int32Array {
  if (beside === null) return places;
  let count = 0;
  for (const i of places) if (beside[i] !== 1) places[count++] = i;
  return places.slice(0, count);
}

/** How many pixels have readings and lie on the board, from an even sample. */
function readingsOn(template: Float32Array, width: number, beside: Uint8Array | null): number {
  const step = evenStride(template.length, width, SLOPE_SAMPLE);
  let count = 0;
  for (let i = 0; i < template.length; i += step) {
    if (template[i]! * 0 === 0 && beside?.[i] !== 1) count++;
  }
  return step * count;
}

/** Read shapes and their slopes at the edges.
 *  @param shapes band-passed, width×height; the first is the one whose edges they are; not modified.
 *  @param most samples: of more edges than that, every so many; enough for the first, rough steps.
 */
export function edgeSamples(
  edges: Edges,
  shapes: readonly Float32Array[],
  width: number,
  most = Number.POSITIVE_INFINITY,
): EdgeSamples {
  const places = everyFew(edges.places, Math.max(1, Math.ceil(edges.places.length / most)));
  const count = places.length;
  const kernels = sharedKernels();
  if (kernels !== null) return samplesByKernel(kernels, places, edges.half, shapes, width);
  const gate = new Float32Array(count);
  const x = new Float32Array(count);
  const y = new Float32Array(count);
  const lists = shapes.map((shape) => listOf(shape, places, width));
  const { slopeX, slopeY } = lists[0]!;
  for (let k = 0; k < count; k++) {
    const s = 4 * (slopeX[k]! * slopeX[k]! + slopeY[k]! * slopeY[k]!);
    gate[k] = (s * s) / (s * s + edges.half);
    x[k] = places[k]! % width;
    y[k] = Math.floor(places[k]! / width);
  }
  return { count, x, y, gate, shapes: lists };
}

function samplesByKernel(
  kernels: Kernels,
  places: Int32Array,
  half: number,
  shapes: readonly Float32Array[],
  width: number,
): EdgeSamples {
  const { run } = kernels;
  const count = places.length;
  const at = kernels.put(places);
  const list = (k: number): number => lists + 4 * k * count;
  const lists = kernels.take(4 * 6 * count);
  const [value, slopeX, slopeY] = [list(0), list(1), list(2)];
  const copy = (k: number): Float32Array => kernels.floats(list(k), count).slice();
  const read = shapes.map((shape, n) => {
    const from = kernels.put(shape);
    run.readEdges(from, at, count, width, value, slopeX, slopeY);
    // The first shape is the one whose edges they are.
    if (n === 0) run.gateEdges(at, count, width, slopeX, slopeY, half, list(3), list(4), list(5));
    return { value: copy(0), slopeX: copy(1), slopeY: copy(2) };
  });
  return { count, x: copy(3), y: copy(4), gate: copy(5), shapes: read };
}

/** What noise and pattern alone make of the samples. */
export interface NoiseShare {
  /** Of the sum of their gates, 0…1. */
  readonly ofGates: number;
  /** Of the sum of their squared slopes, each times its gate, 0…1. */
  readonly ofSlopes: number;
  /** How many times as steep (squared) noise is in the samples as it is everywhere: the steepest of it was taken. */
  readonly steeper: number;
}

/** Estimate how much of what is taken for edges noise and pattern would make alone.
 *  @param samples of these edges, of all or every so many.
 */
export function noiseShare(edges: Edges, { gate, shapes, count }: EdgeSamples): NoiseShare {
  const { slopeX, slopeY } = shapes[0]!;
  const meanSlope2 = Math.sqrt(edges.half) / (GATE_FACTOR * Math.LN2);
  const sites = (edges.sites * count) / Math.max(1, edges.places.length);
  let gates = 0;
  let slopes = 0;
  for (let k = 0; k < count; k++) {
    gates += gate[k]!;
    slopes += gate[k]! * 4 * (slopeX[k]! * slopeX[k]! + slopeY[k]! * slopeY[k]!);
  }
  return {
    ofGates: shareOf(sites * NOISE_GATE, gates),
    ofSlopes: shareOf(sites * NOISE_SLOPE * meanSlope2, slopes),
    steeper: NOISE_SLOPE / NOISE_GATE,
  };
}

function shareOf(part: number, whole: number): number {
  return part < whole ? part / whole : 1;
}

function everyFew(places: Int32Array, step: number): Int32Array {
  if (step === 1) return places;
  const few = new Int32Array(Math.ceil(places.length / step));
  for (let k = 0, i = 0; k < few.length; k++, i += step) few[k] = places[i]!;
  return few;
}

function listOf(shape: Float32Array, places: Int32Array, width: number): EdgeSamples["shapes"][number] {
  const value = new Float32Array(places.length);
  const slopeX = new Float32Array(places.length);
  const slopeY = new Float32Array(places.length);
  for (let k = 0; k < places.length; k++) {
    const i = places[k]!;
    value[k] = shape[i]!;
    slopeX[k] = 0.5 * (shape[i + 1]! - shape[i - 1]!);
    slopeY[k] = 0.5 * (shape[i + width]! - shape[i - width]!);
  }
  return { value, slopeX, slopeY };
}

/** Median of the squared slope (over two pixels), from an even sample; pixels beside holes and at the border count as
 *  flat. */
function usualSlope2(template: Float32Array, width: number, beside: Uint8Array | null): number {
  const step = evenStride(template.length, width, SLOPE_SAMPLE);
  const sampled = Math.ceil(template.length / step);
  const kernels = sharedKernels();
  if (kernels !== null) {
    const [from, to] = [kernels.put(template), kernels.take(4 * sampled)];
    kernels.run.squaredSlopes(from, width, template.length, step, to);
    return quieter(kernels.floats(to, sampled).slice(), step, beside);
  }
  const slope2 = new Float32Array(sampled);
  for (let k = 0, i = 0; i < template.length; k++, i += step) {
    const x = i % width;
    if (x === 0 || x === width - 1 || i < width || i >= template.length - width) continue;
    const across = template[i + 1]! - template[i - 1]!;
    const down = template[i + width]! - template[i - width]!;
    const s = across * across + down * down;
    if (s * 0 === 0) slope2[k] = s;
  }
  return quieter(slope2, step, beside);
}

/** Median over every so many pixels, of the whole frame or of the board alone, whichever is less: what noise and pattern make is in
 *  both, and parts on the one or a bench with structure of its own on the other only add to it.
 */
function quieter(sample: Float32Array, step: number, beside: Uint8Array | null): number {
  if (beside === null) return median(sample);
  const inside = sample.filter((_, k) => beside[k * step] !== 1);
  return inside.length === 0 ? median(sample) : Math.min(median(sample), median(inside));
}
