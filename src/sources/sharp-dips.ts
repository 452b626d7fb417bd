// sources: what a fit leaves → pixels off all named parts that show less heat than those around them, with a sharp
// edge.
import type { OptionsOf } from "../core/options.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { dipDepths } from "../numeric/pixel-errors.js";
import type { Picture } from "./picture.js";
import { stepsAround } from "./steps-around.js";

/** Defaults of `sharpDips`. */
export const SHARP_DIPS_DEFAULTS = Object.freeze({
  /** What is asked is a place of this size against what is around it, standard deviations in px: heat is smooth over
   *  some pixels, and copper, however uneven, makes no hole of a few. */
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

/** Find the small faces that no map names and that show less heat than the board around them: pads, screws and solder
 *  of low emissivity. All of them together would bend the plate's state and hide a small source.
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
    const own = new Float32Array(width * height).fill(Number.NaN);
    for (let i = 0, k = offset; i < own.length; i++, k++) {
      if (onBoard[i] === 1 && apart[k] === 0 && noise[k]! > 0) own[i] = residual[k]!;
    }
    const place = gaussianFilter(own, width, height, o.placePx);
    const around = gaussianFilter(own, width, height, o.aroundPx);
    const ofView = (all: Float32Array) => all.subarray(offset, offset + width * height);
    // Beside what is warmer than was found, the board is no dip.
    const depth = dipDepths(
      own,
      place,
      around,
      ofView(noise),
      left,
      ofView(slope),
      o.shapeErrorPx,
      ofView(heat),
      o.growSigma,
    );
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
  for (let i = 0; i < depth.length; i++) if (depth[i]! > startSigma) dips.add(i);
  // A set hands out what is added while it is walked through.
  for (const i of dips) {
    const x = i % width;
    const beside = [x > 0 ? i - 1 : -1, x < width - 1 ? i + 1 : -1, i - width, i + width];
    for (const k of beside) if (depth[k]! > growSigma) dips.add(k);
  }
  return dips;
}
