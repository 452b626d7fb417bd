// bench: two frames → the spots that the plain chain finds, by the tool's own parts: align, shift, subtract, smooth,
// noise, label, split, measure.

import { findMovement } from "../../src/align/find-movement.js";
import { linePattern } from "../../src/align/line-pattern.js";
import { affineOf, type RigidTransform } from "../../src/align/rigid-transform.js";
import { patternSigma } from "../../src/align/separate-pattern.js";
import type { Raster } from "../../src/core/raster.js";
import { splitBlobs } from "../../src/hotspots/split-blobs.js";
import { gaussianAt } from "../../src/numeric/gaussian-filter.js";
import { sharedKernels } from "../../src/numeric/kernels.js";
import { markedPlaces } from "../../src/numeric/marked-places.js";
import { deviationOfRanks, middleOfRanks, SIGMA_PER_MAD } from "../../src/numeric/median.js";
import { RanksByKernel } from "../../src/numeric/ranks-by-kernel.js";
import { warpAt } from "../../src/numeric/warp-by-kernel.js";

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
  const kernels = sharedKernels();
  if (kernels === null) throw new Error("WebAssembly is missing: there is nothing to compare");
  return kernels.holding([baseline.data, powered.data], () => spotsOf(baseline, powered));
}

function spotsOf(baseline: Raster<"degC">, powered: Raster<"degC">): Spot[] {
  const { width } = baseline;
  const lines = linePattern([baseline, powered]);
  const sensor = { lines, patternSigmaK: patternSigma(baseline, lines) };
  const { transform } = findMovement(baseline, powered, sensor);
  const { smooth, mask, sigma } = smoothRise(baseline, powered, transform);
  const { labels, patches } = splitBlobs(smooth, mask, width, () => 5 * sigma);
  const pixels = new Int32Array(patches.length);
  const sums = new Float64Array(patches.length);
  for (const i of markedPlaces(mask)) {
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

/** The powered frame brought back, less the baseline, smoothed: its noise, K, and 1 = stands out of it. The pictures
 *  are of the kernels' memory, valid until kernels are used again.
 */
function smoothRise(
  baseline: Raster<"degC">,
  powered: Raster<"degC">,
  transform: RigidTransform,
): { smooth: Float32Array; mask: Uint8Array; sigma: number } {
  const { width, height, data } = baseline;
  const kernels = sharedKernels()!;
  const n = data.length;
  const seen = kernels.put(powered.data);
  const back = warpAt(kernels, seen, width, height, affineOf(transform, baseline), "cubic");
  kernels.run.subtract(back, kernels.put(data), n, back);
  const smooth = gaussianAt(kernels, back, width, height, SIGMA_PX);
  const ranks = new RanksByKernel(kernels, smooth, n);
  const centre = middleOfRanks(ranks);
  const sigma = SIGMA_PER_MAD * deviationOfRanks(ranks, centre);
  const mask = kernels.take(n);
  kernels.run.markReached(smooth, n, centre + LIMIT * sigma, mask);
  return { smooth: kernels.floats(smooth, n), mask: kernels.bytes(mask, n), sigma };
}
