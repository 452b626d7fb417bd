// rise: the noise of a contrast as it is far from the frame's border → the same with what it is more towards the
// border.
import type { Raster } from "../core/raster.js";
import { gaussianReachPx } from "../numeric/gaussian-filter.js";
import type { Address } from "../numeric/kernel-exports.js";
import type { Kernels } from "../numeric/kernels.js";
import { median } from "../numeric/median.js";
import { contrastGain } from "./contrast-gain.js";

/** How much noisier a contrast is towards the border of a frame. */
export interface BorderGain {
  /** Noise of white noise of 1 a pixel in the smallest frame that has all that a larger one has, `across` numbers a
   *  row. */
  readonly gain: Float32Array;
  readonly across: number;
  /** … where most of it is. */
  readonly usual: number;
  /** Beyond this no pixel knows of the border, px. */
  readonly reach: number;
}

/** Compute it for a frame of some size. @param sigmaPx size tested. @param wideSigmaPx width of the surroundings,
 *  px. */
export function borderGain(width: number, height: number, sigmaPx: number, wideSigmaPx: number): BorderGain {
  const reach = gaussianReachPx(wideSigmaPx);
  // Beyond the reach of the wider kernel no pixel knows of the border: a frame of twice that tells all.
  const [across, down] = [Math.min(width, 2 * reach + 1), Math.min(height, 2 * reach + 1)];
  const gain = contrastGain(across, down, sigmaPx, wideSigmaPx);
  return { gain, across, usual: median(gain), reach };
}

/** Raise the noise of a contrast towards the border of the frame, where fewer pixels are averaged: a spread read over
 *  the whole frame is that of its middle.
 *  @param noise standard deviation of the contrast, K; changed in place.
 */
export function raiseTowardsBorder(noise: Raster<"K">, { gain, across, usual, reach }: BorderGain): void {
  const { width, height, data } = noise;
  const column = Int32Array.from({ length: width }, (_, x) => shrunk(x, width, reach));
  for (let y = 0; y < height; y++) {
    const row = shrunk(y, height, reach) * across;
    const whole = y < reach || y >= height - reach;
    for (let x = 0; x < width; x++) {
      if (!whole && x === reach) x = Math.max(x, width - reach);
      if (x >= width) break;
      const ratio = gain[row + column[x]!]! / usual;
      if (ratio > 1) data[y * width + x]! *= ratio;
    }
  }
}

/** The same by the compiled kernels, to the last bit. @param at where the noise lies in their memory. */
export function raiseAt(
  kernels: Kernels,
  at: Address,
  width: number,
  height: number,
  border: BorderGain,
): void {
  const { gain, across, usual, reach } = border;
  const place = kernels.put(gain);
  kernels.run.raiseBorder(at, width, height, place, across, reach, usual);
  kernels.giveBack(place);
}

/** Where a place of a line lies in one that has been shortened to both of its ends. */
function shrunk(at: number, length: number, reach: number): number {
  if (at < reach || length <= 2 * reach + 1) return at;
  return Math.max(reach, at - (length - (2 * reach + 1)));
}
