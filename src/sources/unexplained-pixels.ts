// sources: what a fit leaves → pixels that show something that is neither heat of the board nor on a part, and are left
// out.
import type { OptionsOf } from "../core/options.js";
import { standardise } from "../numeric/pixel-errors.js";
import type { Picture } from "./picture.js";

/** Defaults of `unexplainedPixels`. */
export const UNEXPLAINED_DEFAULTS = Object.freeze({
  /** A pixel this many sigma off starts a patch; in a frame of 20,000 noise makes none. */
  startSigma: 6,
  /** … and it goes on as far as neighbours are off by this many, to the same side. */
  growSigma: 2.5,
  /** Room around, for the blur, px. */
  marginPx: 1,
});

/** Find the pixels off all named faces at which the picture changed as the fit can't follow: pads, cans and labels that
 *  no map names and that mirror the room. Heat spreads, and is followed; a fit that can't follow would bend to it.
 *  @param residual K per pixel of all pictures, NaN = left out; not modified.
 *  @param variance K², same order, the model's own error included; not modified.
 *  @param onFace 1 = on the face of a named part, same order.
 *  @returns 1 = to be left out.
 */
export function unexplainedPixels(
  residual: Float32Array,
  variance: Float32Array,
  onFace: Uint8Array,
  pictures: readonly Picture[],
  options: OptionsOf<typeof UNEXPLAINED_DEFAULTS> = {},
): Uint8Array {
  const o = { ...UNEXPLAINED_DEFAULTS, ...options };
  const out = new Uint8Array(residual.length);
  const z = standardise(residual, variance, onFace);
  for (const { seen, offset } of pictures) {
    const { width, height } = seen;
    const last = offset + width * height;
    const open: number[] = [];
    const take = (i: number): void => {
      if (out[i] === 1) return;
      out[i] = 1;
      open.push(i);
    };
    for (let i = offset; i < last; i++) if (Math.abs(z[i]!) > o.startSigma) take(i);
    for (let i = open.pop(); i !== undefined; i = open.pop()) {
      const side = Math.sign(z[i]!);
      const x = (i - offset) % width;
      if (x > 0 && side * z[i - 1]! > o.growSigma) take(i - 1);
      if (x < width - 1 && side * z[i + 1]! > o.growSigma) take(i + 1);
      if (i - width >= offset && side * z[i - width]! > o.growSigma) take(i - width);
      if (i + width < last && side * z[i + width]! > o.growSigma) take(i + width);
    }
    widen(out, offset, width, height, o.marginPx);
  }
  return out;
}

/** Widen what is marked by some pixels each way. */
function widen(mask: Uint8Array, offset: number, width: number, height: number, byPx: number): void {
  const before = mask.slice(offset, offset + width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      if (before[y * width + x] === 0) continue;
      for (let v = Math.max(0, y - byPx); v <= Math.min(height - 1, y + byPx); v++) {
        for (let u = Math.max(0, x - byPx); u <= Math.min(width - 1, x + byPx); u++) {
          mask[offset + v * width + u] = 1;
        }
      }
    }
  }
}
