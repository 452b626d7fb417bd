// rise: size of a frame and of what is tested → how much of white noise is left in the contrast, pixel by pixel.
import { gaussianKernel, gaussianReachPx } from "../numeric/gaussian-filter.js";
import { type Kernels, sharedKernels } from "../numeric/kernels.js";

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
  const kernels = sharedKernels();
  if (kernels !== null) return gainByKernel(kernels, width, height, ...kernelsOf(sigmaPx, wideSigmaPx));
  const across = lineProducts(width, sigmaPx, wideSigmaPx);
  const down = height === width ? across : lineProducts(height, sigmaPx, wideSigmaPx);
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

function gainByKernel(
  kernels: Kernels,
  width: number,
  height: number,
  fine: Float64Array,
  wide: Float64Array,
): Float32Array {
  const { run } = kernels;
  const reach = (wide.length - 1) / 2;
  const [f, w, out] = [kernels.put(fine), kernels.put(wide), kernels.take(4 * width * height)];
  const [across, down] = [kernels.take(24 * width), kernels.take(24 * height)];
  run.lineProducts(f, w, reach, width, across);
  run.lineProducts(f, w, reach, height, down);
  run.crossGains(across, width, down, height, out);
  return kernels.floats(out, width * height).slice();
}

/** The two kernels, the narrower one as wide as the other, zero beyond its own reach. */
function kernelsOf(sigmaPx: number, wideSigmaPx: number): [fine: Float64Array, wide: Float64Array] {
  const reach = gaussianReachPx(wideSigmaPx);
  const own = gaussianReachPx(sigmaPx);
  const fine = new Float64Array(2 * reach + 1);
  fine.set(gaussianKernel(sigmaPx, own), reach - own);
  return [fine, gaussianKernel(wideSigmaPx, reach)];
}

/** Σf², Σf·w and Σw² of the two kernels at every place of a line: towards its ends what is left of each is scaled to
 *  sum 1. */
function lineProducts(
  length: number,
  sigmaPx: number,
  wideSigmaPx: number,
): { fine: Float64Array; mixed: Float64Array; wide: Float64Array } {
  const [f, w] = kernelsOf(sigmaPx, wideSigmaPx);
  const reach = (w.length - 1) / 2;
  const fine = new Float64Array(length);
  const mixed = new Float64Array(length);
  const wide = new Float64Array(length);
  for (let x = 0; x < length; x++) {
    const [from, to] = [Math.max(0, reach - x), Math.min(w.length, reach + length - x)];
    let [sumF, sumW, ff, fw, ww] = [0, 0, 0, 0, 0];
    for (let k = from; k < to; k++) {
      const [a, b] = [f[k]!, w[k]!];
      sumF += a;
      sumW += b;
      ff += a * a;
      fw += a * b;
      ww += b * b;
    }
    fine[x] = ff / (sumF * sumF);
    mixed[x] = fw / (sumF * sumW);
    wide[x] = ww / (sumW * sumW);
  }
  return { fine, mixed, wide };
}
