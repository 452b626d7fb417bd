// rise: size of a frame and of what is tested → how much of white noise is left in the contrast, pixel by pixel.
import { gaussianFilter } from "../numeric/gaussian-filter.js";

/** Compute the standard deviation of the contrast (smoothed minus wider smoothed) of white noise of 1 a pixel.
 *  Towards the border fewer pixels are averaged and the noise grows, by half at the edges and by more than twice in the
 *  corners: a noise read off a whole neighbourhood would be too small there. Holes are not looked at.
 *  @param sigmaPx size tested. @param wideSigmaPx width of the surroundings, px.
 *  @returns width×height, row-major.
 */
export function contrastGain(
  width: number,
  height: number,
  sigmaPx: number,
  wideSigmaPx: number,
): Float32Array {
  const across = lineProducts(width, sigmaPx, wideSigmaPx);
  const down = lineProducts(height, sigmaPx, wideSigmaPx);
  const out = new Float32Array(width * height);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      // Both Gaussians are products of one along x and one along y, and so are the sums of their squares.
      const square =
        across.fine[x]! * down.fine[y]! -
        2 * across.mixed[x]! * down.mixed[y]! +
        across.wide[x]! * down.wide[y]!;
      out[i] = Math.sqrt(Math.max(0, square));
    }
  }
  return out;
}

/** Σf², Σf·w and Σw² of the two kernels at every place of a line, border and all. */
function lineProducts(
  length: number,
  sigmaPx: number,
  wideSigmaPx: number,
): { fine: Float64Array; mixed: Float64Array; wide: Float64Array } {
  const fine = new Float64Array(length);
  const mixed = new Float64Array(length);
  const wide = new Float64Array(length);
  const impulse = new Float32Array(length);
  for (let at = 0; at < length; at++) {
    impulse.fill(0);
    impulse[at] = 1;
    const f = gaussianFilter(impulse, length, 1, sigmaPx);
    const w = gaussianFilter(impulse, length, 1, wideSigmaPx);
    for (let x = 0; x < length; x++) {
      fine[x]! += f[x]! * f[x]!;
      mixed[x]! += f[x]! * w[x]!;
      wide[x]! += w[x]! * w[x]!;
    }
  }
  return { fine, mixed, wide };
}
