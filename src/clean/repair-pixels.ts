// clean: rasters and a mask of bad pixels → the same rasters with those pixels taken from their neighbours.
import { createRaster, type Raster, type RasterUnit } from "../core/raster.js";
import { placesNotZero } from "../numeric/marked-places.js";
import { median } from "../numeric/median.js";
import { LEAST_NEIGHBOURS } from "./find-lone-pixels.js";

/** What `repairPixels` gives back. */
export interface RepairedFrames<U extends RasterUnit> {
  readonly frames: readonly Raster<U>[];
  /** Pixels that got a value, and bad pixels that stayed or became NaN for want of neighbours; over all frames. */
  readonly repaired: number;
  readonly left: number;
}

/** Replace bad pixels by the median of their good neighbours.
 *  Good neighbours are the eight around that are neither bad nor NaN; with fewer than three, the 24 around; with fewer
 *  than three of those the pixel becomes NaN. A pixel that is NaN and not in the mask stays NaN.
 *  @param frames any unit, one shape; not modified. Where nothing is bad they are given back themselves.
 *  @param bad anything but 0 is bad, as from `findBadPixels`; the pixel's size of the frames.
 *  @throws RangeError if the mask does not fit (a fault of the caller).
 */
export function repairPixels<U extends RasterUnit>(
  frames: readonly Raster<U>[],
  bad: Uint8Array,
): RepairedFrames<U> {
  let repaired = 0;
  let left = 0;
  const places = placesNotZero(bad);
  const near = new Float64Array(24);
  const scratch = new Float64Array(24);
  const out = frames.map((frame) => {
    if (frame.data.length !== bad.length) {
      throw new RangeError(`the mask holds ${bad.length} pixels, the frame ${frame.data.length}`);
    }
    if (places.length === 0) return frame;
    const data = frame.data.slice();
    for (const place of places) {
      let count = goodAround(frame, bad, place, 1, near);
      if (count < LEAST_NEIGHBOURS) count = goodAround(frame, bad, place, 2, near);
      const enough = count >= LEAST_NEIGHBOURS;
      data[place] = enough ? median(near.subarray(0, count), scratch) : Number.NaN;
      if (enough) repaired++;
      else left++;
    }
    return createRaster(frame.unit, frame.width, frame.height, data);
  });
  return { frames: out, repaired, left };
}

function goodAround(
  frame: Raster,
  bad: Uint8Array,
  place: number,
  reach: number,
  near: Float64Array,
): number {
  const { width, height, data } = frame;
  const x = place % width;
  const y = (place - x) / width;
  let count = 0;
  for (let ny = Math.max(0, y - reach); ny <= Math.min(height - 1, y + reach); ny++) {
    for (let nx = Math.max(0, x - reach); nx <= Math.min(width - 1, x + reach); nx++) {
      const at = ny * width + nx;
      if (bad[at] === 0 && !Number.isNaN(data[at]!)) near[count++] = data[at]!;
    }
  }
  return count;
}
