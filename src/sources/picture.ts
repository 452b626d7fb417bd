// sources: one picture of the board, among those that are fitted together.
import type { PlacedView } from "../board/place-view.js";
import { type BoardInFrame, showPlate } from "./board-in-frame.js";

/** What a picture is made from. */
export interface PictureInput {
  readonly view: PlacedView;
  readonly width: number;
  readonly height: number;
  /** Blur of the optics, px. */
  readonly opticsSigmaPx: number;
  /** The baseline without the sensor's pattern, °C per pixel; null if there is none. */
  readonly scene: Float32Array | null;
}

/** One picture. Its pixels stand behind those of the pictures before it. */
export interface Picture {
  readonly view: PlacedView;
  readonly seen: BoardInFrame;
  readonly scene: Float32Array | null;
  /** Number of pixels in the pictures before. */
  readonly offset: number;
  /** Its pixels on the board, among those of all pictures. */
  readonly at: Int32Array;
}

/** All pixels on the board, ascending: of one picture its own list. */
export function boardPixels(pictures: readonly Picture[]): Int32Array {
  if (pictures.length === 1) return pictures[0]!.at;
  const out = new Int32Array(pictures.reduce((sum, { at }) => sum + at.length, 0));
  let count = 0;
  for (const { at } of pictures) {
    out.set(at, count);
    count += at.length;
  }
  return out;
}

/** What all pictures show of a rise on the plate, at their pixels on the board: K, one picture after the other.
 *  @param rise K per unknown of the plate.
 */
export function showOnPictures(pictures: readonly Picture[], rise: Float64Array): Float32Array {
  const values = new Float32Array(pictures.reduce((sum, { at }) => sum + at.length, 0));
  let from = 0;
  for (const { seen } of pictures) {
    showPlate(seen, rise, values, from);
    from += seen.pixels.length;
  }
  return values;
}

/** Where a picture's pixels stand among those of all pictures. */
export interface PictureSize {
  readonly width: number;
  readonly height: number;
  readonly offset: number;
}

/** Where the pixels of pictures stand among all. */
export function sizesOf(pictures: readonly Picture[]): PictureSize[] {
  return pictures.map(({ seen: { width, height }, offset }) => ({ width, height, offset }));
}

/** Numbers per pixel of all pictures, those off the board left out: NaN there. */
export function onBoardOnly(values: Float32Array, pictures: readonly Picture[]): Float32Array {
  const out = new Float32Array(values.length).fill(Number.NaN);
  for (const { seen, offset } of pictures) {
    for (const i of seen.pixels) out[offset + i] = values[offset + i]!;
  }
  return out;
}
