// simulate: a scene → files to look at and to feed to the command: CSV frames, JSON, pictures.
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import sharp from "sharp";
import type { Scene, SimFrame } from "./scene.js";

/** Write a scene into a folder: board.json, view.json, truth.json, baseline-*.csv, powered-*.csv, look.png. */
export async function writeScene(folder: string, scene: Scene): Promise<void> {
  mkdirSync(folder, { recursive: true });
  const json = (name: string, value: unknown): void =>
    writeFileSync(join(folder, name), `${JSON.stringify(value, null, 2)}\n`);
  json("board.json", scene.board);
  json("view.json", scene.view);
  const { boardMask: _, ...truth } = scene.truth;
  json("truth.json", {
    invented: true,
    ...truth,
    rateHz: scene.rateHz,
    volts: scene.volts,
    amps: scene.amps,
  });
  for (const [i, one] of scene.baseline.entries())
    writeFileSync(join(folder, `baseline-${i}.csv`), frameCsv(one, 3));
  for (const [i, one] of scene.powered.entries())
    writeFileSync(join(folder, `powered-${i}.csv`), frameCsv(one, 3));
  await writeLook(join(folder, "look.png"), scene);
}

/** A frame as comma-separated °C, one row a line. */
export function frameCsv(frame: SimFrame, digits: number): string {
  const lines: string[] = [];
  for (let j = 0; j < frame.height; j++) {
    const row = frame.data.subarray(j * frame.width, (j + 1) * frame.width);
    lines.push(Array.from(row, (value) => (Number.isNaN(value) ? "" : value.toFixed(digits))).join(","));
  }
  return `${lines.join("\n")}\n`;
}

/** Baseline, last powered frame and their difference side by side, each from its 1 % to its 99.5 %, as large as fits
 *  into 2000 px. */
async function writeLook(file: string, scene: Scene): Promise<void> {
  const first = scene.baseline[0]!;
  const last = scene.powered[scene.powered.length - 1]!;
  const { width, height } = first;
  const difference = Float32Array.from(last.data, (value, i) => value - first.data[i]!);
  const gap = 4;
  const pixels = new Uint8Array((3 * width + 2 * gap) * height);
  for (const [n, data] of [first.data, last.data, difference].entries()) {
    const sorted = Float32Array.from(data).sort();
    const low = sorted[Math.floor(sorted.length * 0.01)]!;
    const high = sorted[Math.floor(sorted.length * 0.995)]!;
    for (let j = 0; j < height; j++) {
      for (let i = 0; i < width; i++) {
        const level = (255 * (data[j * width + i]! - low)) / (high - low);
        pixels[j * (3 * width + 2 * gap) + n * (width + gap) + i] = Math.max(
          0,
          Math.min(255, Math.round(level)),
        );
      }
    }
  }
  const total = 3 * width + 2 * gap;
  const zoom = Math.max(1, Math.floor(2000 / total));
  await sharp(pixels, { raw: { width: total, height, channels: 1 } })
    .resize(total * zoom, height * zoom, { kernel: "nearest" })
    .png()
    .toFile(file);
}
