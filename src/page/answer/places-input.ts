// page: the rasters of a view and a threshold → the places that reach it; runs in a worker.

import { DETECT_DEFAULTS } from "../../hotspots/detect-patches.js";
import { splitBlobs } from "../../hotspots/split-blobs.js";
import type { FoundPlace } from "./find-places.js";

/** What places are found from. */
export interface PlacesInput {
  /** Largest contrast ÷ noise, per pixel; NaN = no reading. */
  readonly significance: Float32Array;
  /** K, at the scale that is tested. */
  readonly rise: Float32Array;
  readonly width: number;
  readonly leastSigma: number;
  /** Noise at the scale that is tested, K. */
  readonly noiseK: number;
}

/** Find the places that reach a threshold, the strongest first. Peaks are split as `detectPatches` does it; what is
 *  judged to be no heat, or to be one place, is not told apart here.
 */
export function placesAt({ significance, rise, width, leastSigma, noiseK }: PlacesInput): FoundPlace[] {
  const mask = new Uint8Array(significance.length);
  for (let i = 0; i < mask.length; i++) if (significance[i]! >= leastSigma && rise[i]! > 0) mask[i] = 1;
  const { splitSigma, splitShare } = DETECT_DEFAULTS;
  const { labels, patches } = splitBlobs(rise, mask, width, (peak) =>
    Math.max(splitSigma * noiseK, splitShare * Math.abs(rise[peak]!)),
  );
  const strongest = new Float32Array(patches.length);
  for (let i = 0; i < labels.length; i++) {
    const label = labels[i]!;
    if (label > 0 && significance[i]! > strongest[label - 1]!) strongest[label - 1] = significance[i]!;
  }
  return patches
    .map(({ peak }, i) => ({
      peakPx: [peak % width, Math.floor(peak / width)] as const,
      riseK: rise[peak]!,
      significance: strongest[i]!,
    }))
    .sort((a, b) => b.significance - a.significance);
}
