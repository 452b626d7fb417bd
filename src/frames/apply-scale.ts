// frames: a picture of whole levels and a scale → a matrix of °C.
import { createRaster, type Raster } from "../core/raster.js";
import { kernelsFor } from "../numeric/kernels.js";
import { type Scale, toLinear } from "./scale.js";

/** A picture of whole levels as the file holds them, row-major. */
export interface LevelImage {
  readonly width: number;
  readonly height: number;
  readonly levels: Uint8Array | Uint16Array;
  /** Largest level the format can hold: 2^bits − 1. */
  readonly maxLevel: number;
  /** Level that marks pixels without a reading; null where there is none. */
  readonly noReadingLevel: number | null;
}

/** A picture in °C with what its levels say of it. */
export interface ScaledImage {
  readonly raster: Raster<"degC">;
  /** K between neighbouring levels. */
  readonly stepK: number;
  /** Pixels at level 0 and at the largest level. */
  readonly saturated: { readonly low: number; readonly high: number };
}

/** Turn levels into °C: lowC + (highC − lowC)·level/maxLevel, or gainCPerLevel·level + offsetC.
 *  Computed in double precision and rounded once. Nothing is clamped.
 *  @returns °C, NaN at the level that marks no reading; such pixels are not counted as saturated.
 */
export function applyScale(image: LevelImage, scale: Scale): ScaledImage {
  const { levels, maxLevel } = image;
  const { gainCPerLevel, offsetC } = toLinear(scale, maxLevel);
  const raster = createRaster("degC", image.width, image.height);
  const skip = image.noReadingLevel ?? -1;
  const kernels = levels instanceof Uint16Array ? kernelsFor(levels.length) : null;
  if (kernels !== null) {
    const n = levels.length;
    const from = kernels.put(levels);
    const [to, counts] = [kernels.take(4 * n), kernels.take(8)];
    kernels.run.scaleLevels(from, n, gainCPerLevel, offsetC, skip, maxLevel, to, counts);
    raster.data.set(kernels.floats(to, n));
    const [lowest, highest] = kernels.integers(counts, 2);
    return { raster, stepK: Math.abs(gainCPerLevel), saturated: { low: lowest!, high: highest! } };
  }
  const data = raster.data;
  let low = 0;
  let high = 0;
  for (let i = 0; i < levels.length; i++) {
    const level = levels[i]!;
    if (level === skip) {
      data[i] = Number.NaN;
      continue;
    }
    if (level === 0) low++;
    else if (level === maxLevel) high++;
    data[i] = gainCPerLevel * level + offsetC;
  }
  return { raster, stepK: Math.abs(gainCPerLevel), saturated: { low, high } };
}
