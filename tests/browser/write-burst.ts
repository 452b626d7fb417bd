// The sample's board seen by a camera of 640×512 for a burst of many frames: written to the disk as pictures of 16
// bits.
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { View } from "../../src/board/board-schema.js";
import { placeView } from "../../src/board/place-view.js";
import { boardPoint } from "../../src/core/units.js";
import { makeRandom } from "../simulate/random.js";
import { greyPng } from "./grey-png.js";
import { SAMPLE_MAP, SAMPLE_VIEW } from "./sample-board.js";

/** The camera, and °C at level 0 and 65535. */
export const BURST = Object.freeze({
  width: 640,
  height: 512,
  lowC: 0,
  highC: 100,
  noiseK: 0.05,
  rateHz: 25,
});
/** The sample's camera has 160×120: four times finer, with sixteen rows more above and below. */
const FINER = 4;
const ROWS_ABOVE = (BURST.height - 120 * FINER) / 2;
/** Random values that are laid over the frames at random offsets: as many as make no frame like another. */
const NOISE_VALUES = 1 << 21;

/** How this camera sees the board. */
export const BURST_VIEW: View = {
  ...SAMPLE_VIEW,
  frame: { width: BURST.width, height: BURST.height },
  fiducials: SAMPLE_VIEW.fiducials.map(({ board, pixel: [x, y] }) => ({
    board,
    // Pixel centres are whole numbers: the edges of the pixels are what scales.
    pixel: [(x + 0.5) * FINER - 0.5, (y + 0.5) * FINER - 0.5 + ROWS_ABOVE],
  })),
};

/** Write two baselines and a burst in which a part warms from power-on.
 *  @returns the paths of all, in the order of their names.
 */
export function writeBurst(folder: string, frames: number, ref = "C6"): string[] {
  const { width, height, noiseK, rateHz } = BURST;
  const random = makeRandom("browser burst");
  const noise = Float32Array.from({ length: NOISE_VALUES }, () => noiseK * random.normal());
  const placed = placeView(BURST_VIEW);
  const part = SAMPLE_MAP.regions.find((region) => region.ref === ref)!;
  const centre = (axis: 0 | 1): number =>
    part.polygon.reduce((sum, point) => sum + point[axis], 0) / part.polygon.length;
  const [u, v] = placed.toFrame(boardPoint(centre(0), centre(1)));
  const corners = SAMPLE_MAP.outline.map(([x, y]) => placed.toFrame(boardPoint(x, y)));
  const left = Math.min(...corners.map(([x]) => x));
  const right = Math.max(...corners.map(([x]) => x));
  const top = Math.min(...corners.map(([, y]) => y));
  const bottom = Math.max(...corners.map(([, y]) => y));
  const scene = new Float32Array(width * height);
  const shape = new Float32Array(width * height);
  for (let i = 0; i < scene.length; i++) {
    const [x, y] = [i % width, Math.floor(i / width)];
    const isBoard = x > left && x < right && y > top && y < bottom;
    scene[i] =
      23 +
      (isBoard ? 1.2 + 0.3 * Math.sin(x / 31) * Math.cos(y / 23) : 0) +
      0.1 * noise[(7 * i) % NOISE_VALUES]!;
    shape[i] = isBoard ? Math.exp(-Math.hypot(x - u, y - v) / 30) : 0;
  }
  const rows = Buffer.alloc(height * (1 + 2 * width));
  const scaleText = JSON.stringify({
    kind: "faultglow/scale",
    version: 1,
    lowC: BURST.lowC,
    highC: BURST.highC,
  });
  const paths: string[] = [];
  const write = (name: string, riseK: number): void => {
    const offset = random.integer(0, NOISE_VALUES - width * height);
    const scale = 65535 / (BURST.highC - BURST.lowC);
    for (let y = 0, i = 0, at = 0; y < height; y++) {
      at++;
      for (let x = 0; x < width; x++, i++, at += 2) {
        const valueC = scene[i]! + riseK * shape[i]! + noise[offset + i]!;
        rows.writeUInt16BE(Math.round(scale * (valueC - BURST.lowC)), at);
      }
    }
    const path = join(folder, name);
    writeFileSync(path, greyPng({ width, height, bits: 16 }, rows, scaleText));
    paths.push(path);
  };
  mkdirSync(folder, { recursive: true });
  for (let k = 1; k <= 2; k++) write(`baseline-${k}.png`, 0);
  for (let k = 1; k <= frames; k++) write(`powered-${k}.png`, 5 * (1 - Math.exp(-(k - 0.5) / rateHz / 4)));
  return paths;
}
