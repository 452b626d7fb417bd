// frames: a series → the readings of some pixels in all frames after those of others, in the memory of the kernels.
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
/** … and of frames in a store: larger, since each piece of a frame is a reading of its own, and of no less than this a frame, as
 *  far as a block may go. */
const STORED_BYTES = 8 * 1024 * 1024;
const LEAST_PIECE_BYTES = 2048;
/** Kernels take so many pixels at a time, and read as many beyond the last one. */
const LANES = 8;

/** Lay a series out in tiles, the first pixels first. Their place is taken at once, so that views of other places, made after
 *  this, stay valid from tile to tile.
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
