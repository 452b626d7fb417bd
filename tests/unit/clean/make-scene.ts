// Pictures for the tests of src/clean: seeded noise, spots as optics make them.
import { createRaster, type Raster } from "../../../src/core/raster.js";

/** Numbers of a standard normal distribution; the same for the same seed (mulberry32 and Box–Muller). */
export function normalNumbers(seed: number): () => number {
  let state = seed >>> 0;
  const uniform = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}

/** A picture of `level` °C with a slope, and with noise of `sigmaK`. */
export function noisyFrame(
  width: number,
  height: number,
  sigmaK: number,
  seed: number,
  level = 24,
): Raster<"degC"> {
  const normal = normalNumbers(seed);
  const data = Float32Array.from(
    { length: width * height },
    (_, i) => level + 0.02 * (i % width) - 0.03 * Math.floor(i / width) + sigmaK * normal(),
  );
  return createRaster("degC", width, height, data);
}

/** Add a Gaussian spot in place: what optics of `sigmaPx` make of a point. */
export function addSpot(frame: Raster, x: number, y: number, peakK: number, sigmaPx: number): void {
  for (let row = 0; row < frame.height; row++) {
    for (let column = 0; column < frame.width; column++) {
      const square = (column - x) ** 2 + (row - y) ** 2;
      const at = row * frame.width + column;
      frame.data[at] = frame.data[at]! + peakK * Math.exp(-square / (2 * sigmaPx * sigmaPx));
    }
  }
}

/** Add to single pixels, in place. */
export function addAt(frame: Raster, x: number, y: number, byK: number): void {
  const at = y * frame.width + x;
  frame.data[at] = frame.data[at]! + byK;
}
