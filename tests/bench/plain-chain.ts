// bench: two frames → the spots that the plain chain finds, by the tool's own parts: align, shift, subtract, smooth, noise, label,
// split, measure.
import { alignFrames } from "../../src/align/align-frames.js";
import { affineOf } from "../../src/align/rigid-transform.js";
import type { Raster } from "../../src/core/raster.js";
import { splitBlobs } from "../../src/hotspots/split-blobs.js";
import { gaussianFilter } from "../../src/numeric/gaussian-filter.js";
import { median, medianAbsoluteDeviation, SIGMA_PER_MAD } from "../../src/numeric/median.js";
import { subtractPixels } from "../../src/numeric/pixel-arithmetic.js";
import { warpRaster } from "../../src/numeric/warp.js";

const SIGMA_PX = 1.5;
const LIMIT = 6;

/** What was found at a place. */
export interface Spot {
  readonly x: number;
  readonly y: number;
  readonly peakK: number;
  readonly pixels: number;
  readonly sumK: number;
}

/** Run the chain. */
export function plainChain(baseline: Raster<"degC">, powered: Raster<"degC">): Spot[] {
  const { width, height } = baseline;
  const { transform } = alignFrames(baseline, powered);
  const back = warpRaster(powered.data, width, height, affineOf(transform, baseline));
  const smooth = gaussianFilter(subtractPixels(back, baseline.data), width, height, SIGMA_PX);
  const centre = median(smooth);
  const sigma = SIGMA_PER_MAD * medianAbsoluteDeviation(smooth, undefined, centre);
  const level = centre + LIMIT * sigma;
  const mask = new Uint8Array(smooth.length);
  for (let i = 0; i < mask.length; i++) if (smooth[i]! > level) mask[i] = 1;
  const { labels, patches } = splitBlobs(smooth, mask, width, () => 5 * sigma);
  const pixels = new Int32Array(patches.length);
  const sums = new Float64Array(patches.length);
  for (let i = mask.indexOf(1); i >= 0; i = mask.indexOf(1, i + 1)) {
    const label = labels[i]!;
    pixels[label - 1]!++;
    sums[label - 1]! += smooth[i]!;
  }
  return patches.map(({ peak }, k) => ({
    x: peak % width,
    y: Math.floor(peak / width),
    peakK: smooth[peak]!,
    pixels: pixels[k]!,
    sumK: sums[k]!,
  }));
}
