// rise: rise with the camera's drift in it → rise measured from what did not warm.
import type { OptionsOf } from "../core/options.js";
import { createRaster, type Raster } from "../core/raster.js";
import { median, robustSigma } from "../numeric/median.js";

/** Defaults of `removeDrift`. */
export const DRIFT_DEFAULTS = Object.freeze({
  /** Fewer reference pixels than this share of the frame can't carry the offset: the whole frame is used. */
  minReferenceShare: 0.03,
  /** Pixels further than this above the level are taken for warmed, in units of the noise. */
  clipSigma: 2,
  /** Rounds of clipping; the level settles within a few. */
  rounds: 12,
});

/** Result of `removeDrift`. */
export interface DriftRemoval {
  readonly rise: Raster<"K">;
  /** What was taken off, K. */
  readonly offsetK: number;
  /** Standard error of the offset, K. */
  readonly offsetSigmaK: number;
  /** What the offset was measured on. */
  readonly reference: "off-board" | "whole frame";
}

/** Take off the common drift of an uncooled camera between two captures.
 *  The level is that of the pixels off the board where there are enough; else the lower bulk of the frame, since
 *  heat only adds. A whole frame that warmed evenly can't be told from drift.
 *  @param rise K, NaN = no reading; not modified.
 *  @param reference 1 = certainly off the board; null where no board is known.
 */
export function removeDrift(
  rise: Raster<"K">,
  reference: Uint8Array | null,
  options: OptionsOf<typeof DRIFT_DEFAULTS> = {},
): DriftRemoval {
  const o = { ...DRIFT_DEFAULTS, ...options };
  const { width, height, data } = rise;
  const off = reference === null ? [] : pick(data, reference);
  const enough = off.length >= o.minReferenceShare * data.length;
  const values = enough ? Float64Array.from(off) : Float64Array.from(data.filter((v) => v * 0 === 0));
  const level = lowerBulk(values, o.clipSigma, o.rounds);
  const out = createRaster("K", width, height);
  for (let i = 0; i < data.length; i++) out.data[i] = data[i]! - level.value;
  return {
    rise: out,
    offsetK: level.value,
    offsetSigmaK: level.sigma,
    reference: enough ? "off-board" : "whole frame",
  };
}

function pick(data: Float32Array, mask: Uint8Array): number[] {
  const out: number[] = [];
  for (let i = 0; i < data.length; i++) if (mask[i] === 1 && data[i]! * 0 === 0) out.push(data[i]!);
  return out;
}

/** Median of what is left when the warm side has been clipped, again and again; spread from the cold side. */
function lowerBulk(
  values: Float64Array,
  clipSigma: number,
  rounds: number,
): { value: number; sigma: number } {
  let kept = values;
  let value = median(kept);
  let spread = robustSigma(kept);
  for (let round = 0; round < rounds; round++) {
    const below = kept.filter((v) => v <= value).map((v) => v - value);
    // A half-normal's median is 0.6745σ.
    spread = Math.abs(median(below)) * 1.4826;
    const limit = value + clipSigma * spread;
    const next = kept.filter((v) => v <= limit);
    if (next.length === kept.length || next.length < 16) break;
    kept = next;
    value = median(kept);
  }
  return { value, sigma: (1.2533 * spread) / Math.sqrt(Math.max(1, kept.length)) };
}
