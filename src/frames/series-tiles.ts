// frames: a series → the readings of some pixels in all frames, or in some at a time, in the memory of the kernels.
import type { Address } from "../numeric/kernel-exports.js";
import type { Kernels } from "../numeric/kernels.js";
import { BLOCK_BYTES, type FrameSeries } from "./frame-series.js";

/** Some pixels in all frames, where kernels can read them. */
export interface Tile {
  /** The first of them, as an index in the raster. */
  readonly start: number;
  readonly size: number;
  /** Place of the first frame's readings; those of each next frame are `stride` bytes further on. */
  readonly at: Address;
  readonly stride: number;
  /** The same readings, one array a frame; valid until the next tile. */
  stack(): Float32Array[];
}

/** A tile of frames that are held, bytes: what stays in the processor's cache while it is worked on … */
const HELD_BYTES = 1024 * 1024;
/** … and of frames in a store: larger, since each piece of a frame is a reading of its own, and of no less than this a
 *  frame, as far as a block may go. */
const STORED_BYTES = 8 * 1024 * 1024;
const LEAST_PIECE_BYTES = 2048;
/** Kernels take so many pixels at a time, and read as many beyond the last one. */
const LANES = 8;

/** Lay a series out in tiles, the first pixels first. Their place is taken at once, so that views of other places, made
 *  after this, stay valid from tile to tile.
 */
export function tilesOf(kernels: Kernels, series: FrameSeries): Iterable<Tile> {
  const { count, width, height } = series;
  const size = width * height;
  const stored = Math.min(BLOCK_BYTES, Math.max(STORED_BYTES, LEAST_PIECE_BYTES * count));
  const bytes = series.isHeld ? HELD_BYTES : stored;
  const fitting = Math.floor(bytes / (Float32Array.BYTES_PER_ELEMENT * count));
  const most = LANES * Math.max(1, Math.floor(Math.min(size + LANES - 1, fitting) / LANES));
  const stride = Float32Array.BYTES_PER_ELEMENT * most;
  const at = kernels.take(stride * count + Float32Array.BYTES_PER_ELEMENT * LANES);
  return walk(kernels, series, at, most);
}

function* walk(kernels: Kernels, series: FrameSeries, at: Address, most: number): Iterable<Tile> {
  const stride = Float32Array.BYTES_PER_ELEMENT * most;
  const all = series.width * series.height;
  for (let start = 0; start < all; start += most) {
    const size = Math.min(most, all - start);
    const stack = (): Float32Array[] =>
      Array.from({ length: series.count }, (_, k) => kernels.floats(at + k * stride, size));
    for (let k = 0; k < series.count; k++) series.read(k, start, kernels.floats(at + k * stride, size));
    yield { start, size, at, stride, stack };
  }
}

/** Some pixels in some frames that follow each other, where kernels can read them. */
interface Stretch {
  /** The first pixel, as an index in the raster. */
  readonly start: number;
  readonly size: number;
  /** The first frame. */
  readonly from: number;
  readonly count: number;
  /** Place of its readings; those of each next frame are `stride` bytes further on. */
  readonly at: Address;
  readonly stride: number;
}

/** Frames in a store: most pixels at a time, for which sums wait from stretch to stretch, and a stretch's bytes. */
const STRIP_PIXELS = 65_536;
const STRETCH_BYTES = 2 * 1024 * 1024;
/** Frames that lie a multiple of the processor's pages apart take each other's place in its cache. */
const APART_BYTES = 192;

/** A series laid out for kernels whose sums wait between calls. */
export interface Stretches extends Iterable<Stretch> {
  /** For so many pixels sums have to wait at a time; 0 where each stretch has all frames. */
  readonly waiting: number;
  /** Most frames of a stretch. */
  readonly most: number;
}

/** Lay a series out for kernels that take frames in their order, some at a time: the first pixels first, and of these
 *  the first frames. Held frames come as tiles, with all of them at once; frames in a store are each read in one or a
 *  few pieces, in memory that does not grow with their number. Places are taken as by `tilesOf`.
 */
export function stretchesOf(kernels: Kernels, series: FrameSeries): Stretches {
  const { count, width, height } = series;
  if (series.isHeld) {
    const tiles = tilesOf(kernels, series);
    return {
      waiting: 0,
      most: count,
      *[Symbol.iterator]() {
        for (const { start, size, at, stride } of tiles) yield { start, size, from: 0, count, at, stride };
      },
    };
  }
  const pixels = LANES * Math.ceil(Math.min(STRIP_PIXELS, width * height) / LANES);
  const stride = Float32Array.BYTES_PER_ELEMENT * pixels + APART_BYTES;
  const most = Math.min(count, Math.max(1, Math.floor(STRETCH_BYTES / stride)));
  const at = kernels.take(stride * most);
  return {
    waiting: pixels,
    most,
    [Symbol.iterator]: () => stretch(kernels, series, at, stride, pixels, most),
  };
}

function* stretch(
  kernels: Kernels,
  series: FrameSeries,
  at: Address,
  stride: number,
  pixels: number,
  most: number,
): Generator<Stretch> {
  const all = series.width * series.height;
  for (let start = 0; start < all; start += pixels) {
    const size = Math.min(pixels, all - start);
    for (let from = 0; from < series.count; from += most) {
      const count = Math.min(most, series.count - from);
      for (let k = 0; k < count; k++) series.read(from + k, start, kernels.floats(at + k * stride, size));
      yield { start, size, from, count, at, stride };
    }
  }
}
