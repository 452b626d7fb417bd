// findings: a fit's pictures, one after the other → each view's own, and what it shows at any place of that view's
// frame.
import { createRaster, type Raster } from "../core/raster.js";
import { sampleBilinear } from "../numeric/sample-bilinear.js";
import { fitFactor } from "./locate-sources.js";

/** The rise that sources make in one view, of which the fit saw square blocks of `factor`×`factor` pixels. */
export interface ViewHeat {
  readonly rise: Raster<"K">;
  readonly factor: number;
}

/** Part what a fit has of its views.
 *  @param heat K, all pixels of the fit. @param frames sizes of the views' frames, in the order in which they were
 *  fitted.
 */
export function heatInViews(
  heat: Float32Array,
  frames: readonly { readonly width: number; readonly height: number }[],
): ViewHeat[] {
  let from = 0;
  return frames.map((frame) => {
    const factor = fitFactor(frame.width * frame.height, frames.length);
    const [width, height] = [frame.width, frame.height].map((side) => Math.max(1, Math.floor(side / factor)));
    const rise = createRaster("K", width!, height!, heat.slice(from, from + width! * height!));
    from += rise.data.length;
    return { rise, factor };
  });
}

/** Heat at a place of the frame, between the centres of blocks bilinear. */
export function heatAt({ rise, factor }: ViewHeat, x: number, y: number): number {
  const shift = (factor - 1) / 2;
  return sampleBilinear(rise.data, rise.width, rise.height, (x - shift) / factor, (y - shift) / factor);
}
