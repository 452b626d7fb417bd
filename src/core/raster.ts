// core: numbers → a raster, the one shape in which every picture travels between stages.

/** What the numbers of a raster are: °C, K of difference, multiples of the noise, W/m², or a plain number. */
export type RasterUnit = "degC" | "K" | "sigma" | "W/m2" | "none";

/** A picture of numbers: row-major, NaN = no reading, `data.length === width * height`. */
export interface Raster<U extends RasterUnit = RasterUnit> {
  readonly unit: U;
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
}

/** Make a raster; without `data` it is filled with zeros.
 *  @throws RangeError if the size is not a positive whole number or does not fit `data` (a fault of the caller).
 */
export function createRaster<U extends RasterUnit>(
  unit: U,
  width: number,
  height: number,
  data: Float32Array = new Float32Array(width * height),
): Raster<U> {
  if (!Number.isInteger(width) || !Number.isInteger(height) || width < 1 || height < 1) {
    throw new RangeError(`a raster needs a positive whole size, not ${width}×${height}`);
  }
  if (data.length !== width * height) {
    throw new RangeError(`${width}×${height} needs ${width * height} values, not ${data.length}`);
  }
  return { unit, width, height, data };
}

/** True if two rasters have the same width and height. */
export function sameShape(a: Raster, b: Raster): boolean {
  return a.width === b.width && a.height === b.height;
}
