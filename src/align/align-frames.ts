// align: baseline and powered frame → how the content moved, and the baseline's scene and pattern.
import type { OptionsOf } from "../core/options.js";
import type { Raster } from "../core/raster.js";
import { sharedKernels } from "../numeric/kernels.js";
import { type ALIGN_DEFAULTS, findMovement, type Movement } from "./find-movement.js";
import { linePattern } from "./line-pattern.js";
import { type SeparatedFrame, separatePattern } from "./separate-pattern.js";

/** How the powered frame's content lies relative to the baseline's. */
export interface Alignment extends Movement {
  /** The baseline, separated into what moves with the board and what stays with the sensor. */
  readonly separated: SeparatedFrame;
}

/** The same where the sensor's pattern is not kept. */
export type PlacedScene = Movement & { readonly separated: Pick<SeparatedFrame, "scene"> };

/** Find the shift and turn of the powered frame's content relative to the baseline's.
 *  The sensor's own pattern is taken off both frames first, since it would hold the answer at zero.
 *  @param baseline °C, width×height, NaN = no reading; not modified.
 *  @param powered °C, same shape; not modified.
 *  @param unreliable 1 = no guide to the alignment (mirrors of the room), in the baseline's grid; null if unknown.
 *  @param warmShape what the camera would add for a board that warmed evenly by 1 K (its emissivity), in the baseline's
 *  grid; null if unknown. A warmed board stands out from the table otherwise than a cold one did.
 *  @param beside 1 = certainly off the board, in the baseline's grid; null if unknown. The bench stays where it was
 *  when the board is nudged, and what structure it has would hold the answer at zero.
 */
export function alignFrames(
  baseline: Raster<"degC">,
  powered: Raster<"degC">,
  unreliable: Uint8Array | null = null,
  warmShape: Float32Array | null = null,
  beside: Uint8Array | null = null,
  options: OptionsOf<typeof ALIGN_DEFAULTS> = {},
): Alignment {
  const align = (): Alignment => {
    const lines = linePattern([baseline, powered]);
    const separated = separatePattern(baseline, lines);
    const sensor = { lines, patternSigmaK: separated.patternSigmaK };
    return { ...findMovement(baseline, powered, sensor, unreliable, warmShape, beside, options), separated };
  };
  // Each step reads both frames.
  return sharedKernels()?.holding([baseline.data, powered.data], align) ?? align();
}
