// rise: noise of a class of pixels and how noisy each pixel of the sensor is → the noise of each pixel.
import { affineOf, isStill, type RigidTransform } from "../align/rigid-transform.js";
import { createRaster, type Raster } from "../core/raster.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { median } from "../numeric/median.js";
import { warpRaster } from "../numeric/warp.js";

/** Variance of the rise at each pixel from the sensor's noise alone: the powered mean's where its content came from,
 *  and the baseline's where it is.
 *  @param sigma noise of one frame at each pixel of the sensor, K, NaN = unknown; not modified.
 *  @param bad anything but 0: a pixel that was taken from its neighbours; it has the ordinary noise.
 *  @param transform from baseline to powered.
 *  @param poweredShare variance of the powered mean ÷ that of one frame.
 *  @param baselineShare the same of the baseline.
 *  @returns K², in the baseline's grid; the ordinary pixel's where unknown.
 */
export function riseVariance(
  sigma: Raster<"K">,
  bad: Uint8Array,
  transform: RigidTransform,
  poweredShare: number,
  baselineShare: number,
): Float32Array {
  const { width, height } = sigma;
  const known = sigma.data.map((value, i) => (bad[i] === 0 ? value * value : Number.NaN));
  const usual = median(known);
  const variance = known.map((value) => (value * 0 === 0 ? value : usual));
  const still = isStill(transform);
  const moved = still
    ? variance
    : warpRaster(variance, width, height, affineOf(transform, sigma), { order: "linear" });
  return variance.map((own, i) => {
    const there = moved[i]! * 0 === 0 ? moved[i]! : usual;
    return poweredShare * there + baselineShare * own;
  });
}

/** Give each pixel its own share of a noise that was measured over many.
 *  What the noise has beyond the sensor's (edges, pattern) stays as it is; only the sensor's part is exchanged for the
 *  pixel's own: σᵢ² = σ² + min(1, σ²/v̄)·(vᵢ − v̄), v̄ the ordinary pixel's variance. Where resampling has lessened the
 *  noise below v̄, it stays in proportion.
 *  @param noise standard deviation as for the ordinary pixel, K; not modified.
 *  @param variance of each pixel of the rise, K²; not modified.
 *  @param smoothedPx Gaussian width of the smoothing that the noise is that of, px; 0 for single pixels.
 *  @param gain2 variance that this smoothing leaves of white noise.
 */
export function sharePixelNoise(
  noise: Raster<"K">,
  variance: Float32Array,
  smoothedPx: number,
  gain2: number,
): Raster<"K"> {
  const { width, height } = noise;
  // The variance of a Gaussian average is an average with the squared kernel, a Gaussian narrower by √2.
  const seen = gaussianFilter(variance, width, height, smoothedPx / Math.SQRT2);
  const usual = median(seen);
  const out = createRaster("K", width, height);
  for (let i = 0; i < seen.length; i++) {
    const square = noise.data[i]! ** 2;
    const share = Math.min(gain2, square / usual);
    out.data[i] = Math.sqrt(square + share * (seen[i]! - usual));
  }
  return out;
}
