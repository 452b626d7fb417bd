// sources: what a fit leaves → pixels off all named parts that show less heat than those around them, with a sharp edge.
import type { OptionsOf } from "../core/options.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import type { Picture } from "./picture.js";
import { stepsAround } from "./steps-around.js";

/** Defaults of `sharpDips`. */
export const SHARP_DIPS_DEFAULTS = Object.freeze({
  /** What is asked is a place of this size against what is around it, standard deviations in px: heat is smooth over some
   *  pixels, and copper, however uneven, makes no hole of a few. */
  placePx: 0.8,
  aroundPx: 2.5,
  /** A pixel this many sigma below its surroundings starts a dip; in a frame of 20,000 noise makes none … */
  startSigma: 5,
  /** … and it goes on as far as neighbours are below by this many. */
  growSigma: 2.5,
  /** Room around, for the blur, px. */
  marginPx: 1,
  /** How far the place of steep heat may be off, px. */
  shapeErrorPx: 0.15,
});

/** Find the small faces that no map names and that show less heat than the board around them: pads, screws and solder of low
 *  emissivity. All of them together would bend the plate's state and hide a small source.
 *  @param residual K per pixel of all pictures, NaN = left out; not modified.
 *  @param noise variance of the pixels, K², NaN = left out; not modified.
 *  @param heat found at first, K per pixel: a face can show at most that much less than the board; not modified.
 *  @param slope size of its gradient, K/px; not modified.
 *  @param apart 1 = not to be looked at: on the face of a named part, or left out already.
 *  @returns 1 = on such a face or in the blur of its edge.
 */
export function sharpDips(
  residual: Float32Array,
  noise: Float32Array,
  heat: Float32Array,
  slope: Float32Array,
  apart: Uint8Array,
  pictures: readonly Picture[],
  options: OptionsOf<typeof SHARP_DIPS_DEFAULTS> = {},
): Uint8Array {
  const o = { ...SHARP_DIPS_DEFAULTS, ...options };
  // White noise that a Gaussian of that size leaves, as a share of a pixel's.
  const left = 1 / Math.sqrt(4 * Math.PI * o.placePx ** 2);
  const out = new Uint8Array(residual.length);
  for (const { seen, offset } of pictures) {
    const { width, height, onBoard } = seen;
    const own = Float32Array.from({ length: width * height }, (_, i) => {
      const k = offset + i;
      return onBoard[i] === 1 && apart[k] === 0 && noise[k]! > 0 ? residual[k]! : Number.NaN;
    });
    const place = gaussianFilter(own, width, height, o.placePx);
    const around = gaussianFilter(own, width, height, o.aroundPx);
    const depth = own.map((value, i) => {
      const sigmaK = left * Math.sqrt(noise[offset + i]! + (o.shapeErrorPx * slope[offset + i]!) ** 2);
      // Beside what is warmer than was found, the board is no dip.
      const depthK = Math.min(0, around[i]!) - place[i]!;
      const shown = depthK - o.growSigma * sigmaK <= heat[offset + i]!;
      return value * 0 === 0 && shown ? depthK / sigmaK : 0;
    });
    for (const i of stepsAround(grown(depth, width, o), width, height, 2 * o.marginPx).keys()) {
      if (apart[offset + i] === 0) out[offset + i] = 1;
    }
  }
  return out;
}

/** Pixels of all dips. */
function grown(
  depth: Float32Array,
  width: number,
  { startSigma, growSigma }: { readonly startSigma: number; readonly growSigma: number },
): Set<number> {
  const dips = new Set<number>();
  depth.forEach((sigmas, i) => {
    if (sigmas > startSigma) dips.add(i);
  });
  // A set hands out what is added while it is walked through.
  for (const i of dips) {
    const x = i % width;
    const beside = [x > 0 ? i - 1 : -1, x < width - 1 ? i + 1 : -1, i - width, i + width];
    for (const k of beside) if (depth[k]! > growSigma) dips.add(k);
  }
  return dips;
}
