// rise: amplitudes at the supply's frequency and beside it → how far each place stands out of the noise, at several
// sizes.
import type { OptionsOf } from "../core/options.js";
import { createRaster, type Raster } from "../core/raster.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { contrastGain } from "./contrast-gain.js";
import { DETAIL_SIGMA_PX, detailVariance } from "./detail-noise.js";
import { CONTRAST_DEFAULTS } from "./local-contrast.js";

/** Amplitudes of cosine and sine, K, one shape. */
export interface Quadratures {
  readonly cosine: Raster<"K">;
  readonly sine: Raster<"K">;
}

/** Contrast of both quadratures at one size. */
interface CycleLayer extends Quadratures {
  readonly sigmaPx: number;
  /** Noise of either, from the neighbouring frequencies, K. */
  readonly noise: Raster<"K">;
}

/** Result of `measureStrength`. */
export interface CycleStrength {
  readonly layers: readonly CycleLayer[];
  /** Largest amplitude ÷ noise over all sizes. */
  readonly strength: Raster<"sigma">;
  /** Which layer that is. */
  readonly layerAt: Uint8Array;
  /** Largest A²/2σ² over the frame and all sizes: at the supply's frequency … */
  readonly power: number;
  /** … and at each neighbour, judged by the noise of the others. */
  readonly neighbourPowers: readonly number[];
}

/** The noise of a place is averaged over so many times the size tested, with twelve neighbours; wider with fewer, so
 *  that it rests on some 360 independent numbers and is good to 4 %: at five sigma that makes false alarms half as many
 *  again. */
const NOISE_WINDOW = 2;
const NOISE_WINDOW_NEIGHBOURS = 12;

/** Measure, for each size, the contrast of both quadratures and their noise.
 *  The contrast is that of `localContrast`. The noise is measured at the same place, in the same way, at frequencies at
 *  which nothing happens: so noisy pixels, edges that tremble and slow drift have their own, and heat has no part in
 *  it.
 *  @param signal at the supply's frequency, K, NaN = no reading; not modified.
 *  @param neighbours beside it, scaled to the noise of an amplitude, two or more; not modified.
 *  @param options.leastPixelK least noise of one pixel's amplitude there can be, K.
 */
export function measureStrength(
  signal: Quadratures,
  neighbours: readonly Quadratures[],
  options: OptionsOf<Pick<typeof CONTRAST_DEFAULTS, "scalesPx" | "leastPixelK">> = {},
): CycleStrength {
  const o = { ...CONTRAST_DEFAULTS, ...options };
  const { width, height } = signal.cosine;
  const size = width * height;
  const strength = createRaster("sigma", width, height, new Float32Array(size).fill(Number.NaN));
  const layerAt = new Uint8Array(size);
  const count = neighbours.length;
  const neighbourPowers = new Array<number>(count).fill(0);
  const layers = o.scalesPx.map((sigmaPx, k): CycleLayer => {
    const cosine = contrastOf(signal.cosine, sigmaPx, o.surroundRatio);
    const sine = contrastOf(signal.sine, sigmaPx, o.surroundRatio);
    const gain = contrastGain(width, height, sigmaPx, sigmaPx * o.surroundRatio);
    // In units of white noise's own contrast, so that the border, where it is larger, may be averaged with the rest.
    const powers = neighbours.map((one) =>
      squaresOf(
        contrastOf(one.cosine, sigmaPx, o.surroundRatio),
        contrastOf(one.sine, sigmaPx, o.surroundRatio),
        gain,
      ),
    );
    const windowPx = NOISE_WINDOW * sigmaPx * Math.sqrt(Math.max(1, NOISE_WINDOW_NEIGHBOURS / count));
    const spreads = powers.map((values) => gaussianFilter(values, width, height, windowPx));
    const least = o.leastPixelK;
    const noise = createRaster("K", width, height);
    for (let i = 0; i < size; i++) {
      let total = 0;
      for (const spread of spreads) total += spread[i]!;
      noise.data[i] = gain[i]! * Math.max(least, Math.sqrt(total / (2 * count)));
      const square = cosine.data[i]! ** 2 + sine.data[i]! ** 2;
      const z = Math.sqrt(square) / noise.data[i]!;
      if (z > strength.data[i]! || Number.isNaN(strength.data[i]!)) {
        strength.data[i] = z;
        layerAt[i] = k;
      }
      for (let j = 0; j < count; j++) {
        const others = Math.max(least * least, (total - spreads[j]![i]!) / (2 * (count - 1)));
        const power = powers[j]![i]! / (2 * others);
        if (power > neighbourPowers[j]!) neighbourPowers[j] = power;
      }
    }
    return { sigmaPx, cosine, sine, noise };
  });
  let most = 0;
  for (const z of strength.data) if (z > most) most = z;
  return { layers, strength, layerAt, power: 0.5 * most * most, neighbourPowers };
}

/** The noise of one pixel's amplitude, from its finest detail at the neighbouring frequencies, averaged over a small
 *  window as good as that of the finest size tested. What is smoother is drift, not a pixel's own noise.
 *  @returns K, same shape.
 */
export function pixelAmplitudeNoise(neighbours: readonly Quadratures[], leastK: number): Raster<"K"> {
  const { width, height } = neighbours[0]!.cosine;
  const sum = new Float32Array(width * height);
  for (const raster of neighbours.flatMap(({ cosine, sine }) => [cosine, sine])) {
    const smooth = gaussianFilter(raster.data, width, height, DETAIL_SIGMA_PX);
    for (let i = 0; i < sum.length; i++) sum[i]! += (raster.data[i]! - smooth[i]!) ** 2;
  }
  const kept = detailVariance(DETAIL_SIGMA_PX);
  const windowPx = NOISE_WINDOW * Math.sqrt(Math.max(1, NOISE_WINDOW_NEIGHBOURS / neighbours.length));
  const mean = gaussianFilter(sum, width, height, windowPx);
  return createRaster(
    "K",
    width,
    height,
    mean.map((square) => Math.max(leastK, Math.sqrt(square / (2 * neighbours.length) / kept))),
  );
}

function contrastOf(raster: Raster<"K">, sigmaPx: number, surroundRatio: number): Raster<"K"> {
  const { width, height, data } = raster;
  const fine = gaussianFilter(data, width, height, sigmaPx);
  const wide = gaussianFilter(data, width, height, sigmaPx * surroundRatio);
  for (let i = 0; i < fine.length; i++) fine[i]! -= wide[i]!;
  return createRaster("K", width, height, fine);
}

function squaresOf(cosine: Raster<"K">, sine: Raster<"K">, unit: Float32Array): Float32Array {
  return cosine.data.map((c, i) => (c * c + sine.data[i]! ** 2) / (unit[i]! * unit[i]!));
}
