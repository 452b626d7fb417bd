// frames: frames of one camera position, held or kept elsewhere → one series, read frame by frame or by blocks of
// pixels.
import { createRaster, type Raster } from "../core/raster.js";

/** Where frames that are too many to hold are kept: a file, in a process; the readers make it and give it away. */
export interface FrameStore {
  /** Read some of a frame's readings, from pixel `start` on, until `into` is full. */
  read(place: number, start: number, into: Float32Array): void;
}

/** A raster whose readings are in a store: each use of `data` reads them anew, into memory of their own. */
export interface StoredRaster extends Raster<"degC"> {
  readonly store: FrameStore;
  /** Its place in the store. */
  readonly place: number;
}

/** Some pixels in all frames. */
interface PixelBlock {
  /** The first of them, as an index in the raster. */
  readonly start: number;
  readonly size: number;
  /** Their readings, one array a frame; not to be modified, valid until the next block. */
  readonly stack: readonly Float32Array[];
}

/** Frames in their order, of one shape. What is computed from a series is the same number for number however it is
 *  kept. */
export interface FrameSeries {
  readonly count: number;
  readonly width: number;
  readonly height: number;
  /** Readings of a frame, or of its pixels from `start` to before `end`; not to be modified, valid until the next
   *  call. */
  frame(k: number, start?: number, end?: number): Float32Array;
  /** Copy readings of a frame, from pixel `start` on, until `into` is full. */
  read(k: number, start: number, into: Float32Array): void;
  /** True if all frames are in memory. */
  readonly isHeld: boolean;
  /** All pixels, block by block: held frames are one block, and others as much as `BLOCK_BYTES` at a time. */
  blocks(): Iterable<PixelBlock>;
}

/** Memory for a block of pixels in all frames: what a burst of any length costs. */
export const BLOCK_BYTES = 24 * 1024 * 1024;

/** A block's memory waits here for the next pass over the same store: freed and made anew it would pile up. */
const spares = new WeakMap<FrameStore, Float32Array>();

/** Make a raster whose readings are in a store. */
export function storedRaster(store: FrameStore, place: number, width: number, height: number): StoredRaster {
  return new KeptRaster(store, place, width, height);
}

/** A class for its getter alone: as a part of each object it would weigh more than all the rest of it. */
class KeptRaster implements StoredRaster {
  readonly unit = "degC";

  constructor(
    readonly store: FrameStore,
    readonly place: number,
    readonly width: number,
    readonly height: number,
  ) {}

  get data(): Float32Array {
    const { data } = createRaster("degC", this.width, this.height);
    this.store.read(this.place, 0, data);
    return data;
  }
}

/** Make a series of frames, wherever each of them is.
 *  @param frames °C, at least one, all of one shape; not modified.
 *  @param blockBytes memory for a block of pixels; only for frames that are in a store.
 */
export function seriesOf(frames: readonly Raster<"degC">[], blockBytes = BLOCK_BYTES): FrameSeries {
  const { width, height } = frames[0]!;
  const size = width * height;
  const held = frames.map((frame) => (isStored(frame) ? null : frame.data));
  const isHeld = !held.includes(null);
  let scratch = new Float32Array(0);
  const read = (k: number, start: number, into: Float32Array): void => {
    const data = held[k]!;
    if (data !== null) into.set(data.subarray(start, start + into.length));
    else (frames[k] as StoredRaster).store.read((frames[k] as StoredRaster).place, start, into);
  };
  return {
    count: frames.length,
    width,
    height,
    frame(k, start = 0, end = size) {
      const data = held[k]!;
      if (data !== null) return start === 0 && end === size ? data : data.subarray(start, end);
      if (scratch.length < end - start) scratch = new Float32Array(end - start);
      const part = scratch.length === end - start ? scratch : scratch.subarray(0, end - start);
      read(k, start, part);
      return part;
    },
    read,
    isHeld,
    *blocks() {
      if (isHeld) {
        yield { start: 0, size, stack: held as Float32Array[] };
        return;
      }
      const bytesAPixel = Float32Array.BYTES_PER_ELEMENT * frames.length;
      const most = Math.min(size, Math.max(1, Math.floor(blockBytes / bytesAPixel)));
      const { store } = frames.find(isStored)!;
      const spare = spares.get(store);
      // Nobody else may use it until this pass is over.
      spares.delete(store);
      const fits = spare !== undefined && spare.length >= most * frames.length;
      const block = fits ? spare : new Float32Array(most * frames.length);
      const whole = frames.map((_, k) => block.subarray(k * most, (k + 1) * most));
      for (let start = 0; start < size; start += most) {
        const length = Math.min(most, size - start);
        const stack = length === most ? whole : whole.map((part) => part.subarray(0, length));
        for (let k = 0; k < stack.length; k++) read(k, start, stack[k]!);
        yield { start, size: length, stack };
      }
      spares.set(store, block);
    },
  };
}

function isStored(frame: Raster<"degC">): frame is StoredRaster {
  return "store" in frame;
}
