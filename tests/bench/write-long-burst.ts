// bench: a number of frames → a burst of that length on the disk, as pictures of 16 bits, made one after the other.
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { greyPng } from "../browser/grey-png.js";
import { makeRandom } from "../simulate/random.js";

/** °C at the lowest level, and from there to the highest one, K. */
const LOW_C = -20;
const SPAN_K = 140;

/** What is written: a board that warms in two places from power-on, seen by an uncooled array. */
export const LONG_BURST = Object.freeze({
  width: 256,
  height: 192,
  rateHz: 25,
  /** °C at level 0 and 65535, as the option says it. */
  scale: `${LOW_C}:${LOW_C + SPAN_K}`,
  baselineFrames: 8,
  noiseK: 0.037,
  spots: [
    { x: 151, y: 83, sigmaPx: 3, riseK: 1.2, fromS: 0 },
    { x: 70, y: 121, sigmaPx: 4, riseK: 0.6, fromS: 3 },
  ],
});

/** Random fields of noise, laid over the frames at random offsets: as many as make no frame like another. */
const NOISE_VALUES = 1 << 20;

/** Write the frames below a folder.
 *  @param form pictures of 16 bits, or text with two decimals.
 *  @returns the two folders.
 */
export function writeLongBurst(
  folder: string,
  frames: number,
  form: "png" | "csv" = "png",
): { baseline: string; powered: string } {
  const { width, height, rateHz, baselineFrames, spots } = LONG_BURST;
  const random = makeRandom("long burst");
  const noise = Float32Array.from({ length: NOISE_VALUES }, () => LONG_BURST.noiseK * random.normal());
  const scene = Float32Array.from({ length: width * height }, (_, i) => {
    const [x, y] = [i % width, Math.floor(i / width)];
    const part = Math.floor(x / 23) % 2 === Math.floor(y / 17) % 2 ? 0.8 : 0;
    return 24 + part + 0.3 * Math.sin(x / 31) + (0.24 * noise[(7 * i) % NOISE_VALUES]!) / LONG_BURST.noiseK;
  });
  const shapes = spots.map(({ x, y, sigmaPx, riseK }) =>
    Float32Array.from(scene, (_, i) => {
      const r2 = ((i % width) - x) ** 2 + (Math.floor(i / width) - y) ** 2;
      return riseK * Math.exp((-0.5 * r2) / sigmaPx ** 2);
    }),
  );
  const rows = Buffer.alloc(height * (1 + 2 * width));
  const write = (file: string, timeS: number | null): void => {
    const shares = spots.map(({ fromS }) =>
      timeS === null || timeS < fromS ? 0 : Math.log1p(4 * (timeS - fromS)) / Math.log1p(4 * 8),
    );
    const drift = 0.05 * random.normal();
    const offset = random.integer(0, NOISE_VALUES - width * height);
    const lines: string[] = [];
    for (let y = 0, i = 0, at = 0; y < height; y++) {
      at++;
      const words: string[] = [];
      for (let x = 0; x < width; x++, i++, at += 2) {
        let valueC = scene[i]! + drift + noise[offset + i]!;
        for (let s = 0; s < shapes.length; s++) valueC += shares[s]! * shapes[s]![i]!;
        if (form === "csv") words.push(valueC.toFixed(2));
        else rows.writeUInt16BE(Math.round((65535 * (valueC - LOW_C)) / SPAN_K), at);
      }
      lines.push(words.join(","));
    }
    writeFileSync(
      file,
      form === "csv" ? lines.join("\n") : greyPng({ ...LONG_BURST, bits: 16 }, rows, undefined, 0),
    );
  };
  const baseline = join(folder, "baseline");
  const powered = join(folder, "powered");
  mkdirSync(baseline, { recursive: true });
  mkdirSync(powered, { recursive: true });
  for (let k = 0; k < baselineFrames; k++) write(join(baseline, `${k}.${form}`), null);
  for (let k = 0; k < frames; k++) {
    // A single frame is one of the last ones.
    write(join(powered, `${k}.${form}`), frames === 1 ? 20 : (k + 0.5) / rateHz);
  }
  return { baseline, powered };
}
