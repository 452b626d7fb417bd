// hotspots: contrast at several sizes → significant patches, one per peak.

import type { OptionsOf } from "../core/options.js";
import { createRaster, type Raster } from "../core/raster.js";
import { sharedKernels } from "../numeric/kernels.js";
import { markedPlaces } from "../numeric/marked-places.js";
import type { ContrastLayer } from "../rise/local-contrast.js";
import { type Patch, splitBlobs } from "./split-blobs.js";

/** Defaults of `detectPatches`. */
export const DETECT_DEFAULTS = Object.freeze({
  /** A second peak must stand above the pass by this many times the noise: one false split in thousands. */
  splitSigma: 5,
  /** … and by this share of its own height: uneven copper makes shallow ripples on strong heat. */
  splitShare: 0.05,
  /** Pixels beside significant ones belong to the patch from this share of the threshold on: noise tears a faint spot
   *  into specks that are one place. */
  joinShare: 0.8,
});

/** A significant patch. */
export interface DetectedPatch extends Patch {
  /** Pixels, as indices in the raster. */
  readonly pixels: Int32Array;
  /** Largest contrast ÷ noise over the patch and all sizes. */
  readonly significance: number;
}

/** Result of `detectPatches`. */
export interface DetectedPatches {
  readonly patches: readonly DetectedPatch[];
  /** Largest contrast ÷ noise over all sizes, per pixel. */
  readonly significance: Raster<"sigma">;
}

/** Cluster the pixels that are significant at any size (8-connected) and split clusters with several peaks.
 *  @param smoothRise K, the picture on whose peaks blobs are split; not modified.
 *  @param threshold significance a pixel must reach.
 */
export function detectPatches(
  layers: readonly ContrastLayer[],
  smoothRise: Raster<"K">,
  threshold: number,
  options: OptionsOf<typeof DETECT_DEFAULTS> = {},
): DetectedPatches {
  const o = { ...DETECT_DEFAULTS, ...options };
  const { width, height } = smoothRise;
  const { mask, strongest } = reach(layers, width * height, threshold);
  const significance = createRaster("sigma", width, height, strongest);
  joinNear(mask, strongest, width, o.joinShare * threshold);
  const finest = layers[0]!;
  const split = splitBlobs(smoothRise.data, mask, width, (peak) =>
    Math.max(o.splitSigma * finest.noise.data[peak]!, o.splitShare * Math.abs(smoothRise.data[peak]!)),
  );
  const members: number[][] = split.patches.map(() => []);
  for (const i of markedPlaces(mask)) {
    if (split.labels[i]! > 0) members[split.labels[i]! - 1]!.push(i);
  }
  const patches = split.patches.map((patch, k): DetectedPatch => {
    const pixels = Int32Array.from(members[k]!);
    let best = 0;
    for (const i of pixels) best = Math.max(best, significance.data[i]!);
    return { ...patch, pixels, significance: best };
  });
  // A peak below zero stands out of surroundings that cooled: no heat.
  return { patches: patches.filter((patch) => smoothRise.data[patch.peak]! > 0), significance };
}

/** Add pixels that reach a level and touch a pixel of the mask. */
function joinNear(mask: Uint8Array, strongest: Float32Array, width: number, level: number): void {
  const found: number[] = [];
  for (const i of markedPlaces(mask)) {
    const x = i % width;
    for (let dy = -1; dy <= 1; dy++) {
      for (let dx = -1; dx <= 1; dx++) {
        const k = i + dy * width + dx;
        if (x + dx < 0 || x + dx >= width || k < 0 || k >= mask.length) continue;
        if (mask[k] === 0 && strongest[k]! >= level) found.push(k);
      }
    }
  }
  for (const k of found) mask[k] = 1;
}

/** The largest contrast ÷ noise of each pixel over all layers, NaN without any, and 1 where that reaches a
 *  threshold. */
function reach(
  layers: readonly ContrastLayer[],
  size: number,
  threshold: number,
): { mask: Uint8Array; strongest: Float32Array } {
  const kernels = sharedKernels();
  if (kernels !== null) {
    const [top, marks] = [kernels.take(4 * size), kernels.take(size)];
    const [above, below] = [kernels.take(4 * size), kernels.take(4 * size)];
    kernels.floats(top, size).fill(Number.NEGATIVE_INFINITY);
    for (const { contrast, noise } of layers) {
      kernels.floats(above, size).set(contrast.data);
      kernels.floats(below, size).set(noise.data);
      kernels.run.raise(top, above, below, size);
    }
    kernels.run.markReached(top, size, threshold, marks);
    return { mask: kernels.bytes(marks, size).slice(), strongest: kernels.floats(top, size).slice() };
  }
  const strongest = new Float32Array(size).fill(Number.NEGATIVE_INFINITY);
  const mask = new Uint8Array(size);
  for (const { contrast, noise } of layers) {
    for (let i = 0; i < size; i++) {
      const z = contrast.data[i]! / noise.data[i]!;
      if (z > strongest[i]!) strongest[i] = z;
    }
  }
  for (let i = 0; i < size; i++) {
    const z = strongest[i]!;
    if (z >= threshold) mask[i] = 1;
    if (!(z * 0 === 0)) strongest[i] = Number.NaN;
  }
  return { mask, strongest };
}
