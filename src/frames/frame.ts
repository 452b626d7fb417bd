// frames: the frame as every later stage knows it.
import type { Raster } from "../core/raster.js";

/** One thermal picture in °C with where it came from and what is known of its values. */
export interface Frame {
  readonly raster: Raster<"degC">;
  /** File name as given by the user; null for frames made in memory. */
  readonly file: string | null;
  /** SHA-256 of the file's bytes, hex; null for frames made in memory. */
  readonly sha256: string | null;
  /** Position in a file that holds several frames, from 0. */
  readonly index: number;
  /** Step between neighbouring levels where the file is quantised (8-bit, 16-bit), K; null where unknown. */
  readonly stepK: number | null;
  /** Pixels at the lowest and at the highest level the scale can hold; null where the format has no ends
   *  and none shows. */
  readonly saturated: { readonly low: number; readonly high: number } | null;
}

/** Make a frame from a raster in memory. */
export function frameFromRaster(raster: Raster<"degC">): Frame {
  return { raster, file: null, sha256: null, index: 0, stepK: null, saturated: null };
}
