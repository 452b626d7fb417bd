// align: band-passed shapes → the pixels at their edges, with values and slopes, in lists.
import { type Kernels, sharedKernels } from "../numeric/kernels.js";
import type { Ground } from "./ground.js";
import { readingsOn, slope2At, usualSlopes2 } from "./usual-slopes.js";

/** Squared slope at which a pixel counts half, × the frame's median squared slope. Of pixels that show noise and
 *  pattern alone one in sixteen counts then at all (at 9 one in eight did, and they held weak boards at zero: their
 *  slopes are the pattern's). Halved or doubled, the median error of 50 pairs of usual boards is 0.0168 or 0.0183 px,
 *  of 0.0172. */
const GATE_FACTOR = 12;
/** The same × the bench's median squared slope, where the detail shows the bench: of its structure one pixel in 250
 *  counts at all, for it is in both frames alike, and each such pixel says that nothing moved. Of 18 weak boards on a
 *  bench with structure half of it leaves two a pixel off, and twice of it leaves six untold. */
const BENCH_FACTOR = 24;
/** Pixels that count less than this are left out: they are many, and say next to nothing. */
const LEAST_GATE = 0.1;
/** Where there is nothing but noise and pattern, squared slopes are distributed exponentially: mean gate of a pixel,
 *  and mean of gate × squared slope in units of its mean, with the two constants above (∫ g e⁻ˣ dx and ∫ g x e⁻ˣ dx, g
 *  = x²/(x² + (12 ln 2)²), from x = 4 ln 2 on). */
const NOISE_GATE = 0.01076;
const NOISE_SLOPE = 0.04521;
/** Above this number of pixels in the frame every other one is taken, like the white squares of a chessboard: after
 *  the band-pass neighbours hold the same noise, so that nothing is lost. */
const MOST_WHOLE_PIXELS = 30_000;
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
  /** Squared slope (over two pixels) at which each of them counts half, squared; null where it is `half` for all. */
  readonly halves: Float32Array | null;
  /** 1 = clear of edges, with readings on all four sides. */
  readonly flat: Uint8Array;
  /** How many pixels with readings on the board were looked at, about: of large frames half of them. What noise makes
   *  of them is as much as there are. */
  readonly sites: number;
  /** Squared slope (over two pixels) at which a pixel counts half, squared. */
  readonly half: number;
}

/** Find the pixels at edges.
 *  Flat parts hold what the sensor's pattern left, which stays put when the board moves: many weak slopes would hold
 *  the answer at zero. So would the bench: a mat or a cloth lies still while the board moves. Outside the outline an
 *  edge has to stand above the bench's own slopes too, and close to it by the share that the bench has in the detail.
 *  @param template band-passed, width×height, NaN = left out; not modified.
 *  @param ground null if no board is known.
 */
export function findEdges(
  template: Float32Array,
  width: number,
  height: number,
  ground: Ground | null = null,
): Edges {
  const usual = usualSlopes2(template, width, ground?.beside ?? null);
  // A picture without any slope has no edge: above 0, so that nothing is divided by it.
  const half = (GATE_FACTOR * usual.everywhere) ** 2 + 1e-30;
  const least = Math.sqrt((half * LEAST_GATE) / (1 - LEAST_GATE));
  const sparse = width * height > MOST_WHOLE_PIXELS;
  const sites = readingsOn(template, width, ground?.beside ?? null) * (sparse ? 0.5 : 1);
  const edgesAt = (places: Int32Array, flat: Uint8Array): Edges => ({
    ...ofTheBoard(places, template, width, ground, half, BENCH_FACTOR * usual.bench),
    flat,
    sites,
    half,
  });
  const kernels = sharedKernels();
  if (kernels !== null) {
    const from = kernels.put(template);
    const [clear, found] = [kernels.put(new Uint8Array(width * height)), kernels.take(4 * width * height)];
    const count = kernels.run.findEdges(from, width, height, least, sparse ? 1 : 0, clear, found);
    return edgesAt(kernels.integers(found, count).slice(), kernels.bytes(clear, width * height).slice());
  }
  const flat = new Uint8Array(width * height);
  const places = new Int32Array(width * height);
  let count = 0;
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1, i = y * width + 1; x < width - 1; x++, i++) {
      const s = slope2At(template, i, width);
      if (s < least) flat[i] = 1;
      else if (s >= least && template[i]! * 0 === 0 && !(sparse && ((x + y) & 1) === 1)) places[count++] = i;
    }
  }
  return edgesAt(places.slice(0, count), flat);
}

/** Places without those of the bench: a board that is nudged leaves what it lies on where it was.
 *  @param half squared slope at which a place on the board counts half, squared. @param benchHalf the same of the
 *  bench, not squared.
 */
function ofTheBoard(
  places: Int32Array,
  template: Float32Array,
  width: number,
  ground: Ground | null,
  half: number,
  benchHalf: number,
): Pick<Edges, "places" | "halves"> {
  if (ground === null) return { places, halves: null };
  const boardHalf = Math.sqrt(half);
  const more = Math.max(0, benchHalf - boardHalf);
  const halves = new Float32Array(places.length);
  let count = 0;
  for (const i of places) {
    if (ground.beside[i] === 1) continue;
    const here = (boardHalf + more * (1 - ground.boardShare[i]!)) ** 2;
    if (more > 0 && gateOf(slope2At(template, i, width), here) < LEAST_GATE) continue;
    halves[count] = here;
    places[count++] = i;
  }
  return { places: places.slice(0, count), halves: more > 0 ? halves.slice(0, count) : null };
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
  const step = Math.max(1, Math.ceil(edges.places.length / most));
  const places = everyFew(edges.places, step);
  const count = places.length;
  const kernels = sharedKernels();
  if (kernels !== null) {
    const samples = samplesByKernel(kernels, places, edges.half, shapes, width);
    return { ...samples, gate: lessBench(samples, edges.halves, step) };
  }
  const gate = new Float32Array(count);
  const x = new Float32Array(count);
  const y = new Float32Array(count);
  const lists = shapes.map((shape) => listOf(shape, places, width));
  const { slopeX, slopeY } = lists[0]!;
  for (let k = 0; k < count; k++) {
    gate[k] = gateOf(4 * (slopeX[k]! ** 2 + slopeY[k]! ** 2), edges.half);
    x[k] = places[k]! % width;
    y[k] = Math.floor(places[k]! / width);
  }
  const samples = { count, x, y, gate, shapes: lists };
  return { ...samples, gate: lessBench(samples, edges.halves, step) };
}

/** The gates, lower where the bench has structure of its own; the same array. */
function lessBench({ gate, shapes }: EdgeSamples, halves: Float32Array | null, step: number): Float32Array {
  if (halves === null) return gate;
  const { slopeX, slopeY } = shapes[0]!;
  for (let k = 0; k < gate.length; k++) {
    gate[k] = gateOf(4 * (slopeX[k]! ** 2 + slopeY[k]! ** 2), halves[k * step]!);
  }
  return gate;
}

/** How far a squared slope (over two pixels) stands above the usual one, 0…1. */
function gateOf(slope2: number, half: number): number {
  return (slope2 * slope2) / (slope2 * slope2 + half);
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
