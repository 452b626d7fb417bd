// sources: pictures and view at full size → the same averaged over square blocks, for frames finer than the fit needs.
import type { PlacedView } from "../board/place-view.js";
import { createRaster, type Raster, type RasterUnit } from "../core/raster.js";
import { boardPoint, framePoint } from "../core/units.js";
import { sampleBilinear } from "../numeric/sample-bilinear.js";

/** Average a picture over blocks of `factor`×`factor` pixels; readings only, NaN where a block has none.
 *  Columns and rows that don't fill a block are left out.
 */
export function shrinkRaster<U extends RasterUnit>(raster: Raster<U>, factor: number): Raster<U> {
  if (factor === 1) return raster;
  const width = Math.max(1, Math.floor(raster.width / factor));
  const height = Math.max(1, Math.floor(raster.height / factor));
  const out = createRaster<U>(raster.unit, width, height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      let sum = 0;
      let count = 0;
      for (let v = y * factor; v < Math.min(raster.height, (y + 1) * factor); v++) {
        for (let u = x * factor; u < Math.min(raster.width, (x + 1) * factor); u++) {
          const value = raster.data[v * raster.width + u]!;
          if (!(value * 0 === 0)) continue;
          sum += value;
          count++;
        }
      }
      out.data[y * width + x] = count === 0 ? Number.NaN : sum / count;
    }
  }
  return out;
}

/** Bring a shrunken picture back to the size it had, bilinear between the centres of blocks; beyond the outer centres
 *  their values hold.
 *  @param width, height what `shrinkRaster` was given.
 */
export function growRaster<U extends RasterUnit>(
  small: Raster<U>,
  factor: number,
  width: number,
  height: number,
): Raster<U> {
  if (factor === 1) return small;
  const out = createRaster<U>(small.unit, width, height);
  const shift = (factor - 1) / 2;
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      const [u, v] = [(x - shift) / factor, (y - shift) / factor];
      out.data[i] = sampleBilinear(small.data, small.width, small.height, u, v);
    }
  }
  return out;
}

/** The view as the shrunken frame has it: the centre of block (0, 0) lies at pixel (factor − 1)/2. */
export function shrinkView(view: PlacedView, factor: number): PlacedView {
  if (factor === 1) return view;
  const shift = (factor - 1) / 2;
  const m = view.matrix;
  const row = (a: number, c: number) => ((m[a] ?? 0) - shift * (m[c] ?? 0)) / factor;
  return {
    ...view,
    matrix: [row(0, 6), row(1, 7), row(2, 8), row(3, 6), row(4, 7), row(5, 8), m[6]!, m[7]!, m[8]!],
    toFrame: (point) => {
      const [x, y] = view.toFrame(boardPoint(point[0], point[1]));
      return framePoint((x - shift) / factor, (y - shift) / factor);
    },
    toBoard: (point) => view.toBoard(framePoint(point[0] * factor + shift, point[1] * factor + shift)),
    mmPerPxAt: (point) =>
      factor * view.mmPerPxAt(framePoint(point[0] * factor + shift, point[1] * factor + shift)),
    residualPx: view.residualPx / factor,
    covarianceAt: (point) => {
      const { xx, xy, yy } = view.covarianceAt(
        framePoint(point[0] * factor + shift, point[1] * factor + shift),
      );
      return { xx: xx / factor ** 2, xy: xy / factor ** 2, yy: yy / factor ** 2 };
    },
  };
}
