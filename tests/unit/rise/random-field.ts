// tests: a seed and a rule → a picture of 160×120 pixels.
import { makeRandom, type Random } from "../../simulate/random.js";

export const width = 160;
export const height = 120;

/** A value for every pixel, by one stream of random numbers from the first row on. */
export function field(
  seed: string,
  valueAt: (random: Random, x: number, y: number) => number,
): Float32Array<ArrayBuffer> {
  const random = makeRandom(seed);
  return Float32Array.from({ length: width * height }, (_, i) =>
    valueAt(random, i % width, Math.floor(i / width)),
  );
}
