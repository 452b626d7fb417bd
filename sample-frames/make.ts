// sample-frames: nothing → the sample files beside this one, the same ones each time. Run: npx tsx
// sample-frames/make.ts
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { PNG } from "pngjs";
import sharp from "sharp";
import type { Scene, SimFrame } from "../tests/simulate/scene.js";
import { frameCsv } from "../tests/simulate/write-scene.js";
import { type Attempt, sampleAttempts } from "./attempts.js";
import { sampleBoard } from "./board-parts.js";

/** Scale of the 16-bit pictures: a step of 1.5 mK, far below the noise; a dead pixel at −20 °C still fits. */
const SCALE = { lowC: -40, highC: 60 } as const;
const HERE = dirname(fileURLToPath(import.meta.url));

async function main(): Promise<void> {
  const attempts = sampleAttempts(sampleBoard());
  const first = attempts[0]!.scene;
  writeJson("board.json", first.board);
  for (const attempt of attempts) await writeAttempt(attempt, first);
}

/** All attempts share the first one's map; each has its own view, since its fiducials were clicked anew. */
async function writeAttempt({ name, title, story, scene }: Attempt, first: Scene): Promise<void> {
  const folder = join(HERE, name);
  mkdirSync(join(folder, "baseline"), { recursive: true });
  mkdirSync(join(folder, "powered"), { recursive: true });
  const pictures = scene.rateHz !== null;
  for (const [role, frames] of [
    ["baseline", scene.baseline],
    ["powered", scene.powered],
  ] as const) {
    for (const [i, frame] of frames.entries()) {
      const stem = `${name}/${role}/frame-${i + 1}`;
      if (pictures) await writePicture(stem, frame);
      else writeFileSync(join(HERE, `${stem}.csv`), frameCsv(frame, 2));
    }
  }
  writeJson(`${name}/view-top.json`, scene.view);
  const { truth } = scene;
  writeJson(`${name}/attempt.json`, {
    invented: true,
    title,
    story,
    baseline: ["baseline"],
    powered: ["powered"],
    board: "../board.json",
    view: "view-top.json",
    side: "top",
    scale: null,
    rateHz: scene.rateHz,
    afterS: scene.rateHz === null ? truth.timesS[0] : null,
    volts: scene.volts,
    amps: scene.amps,
  });
  writeJson(`${name}/truth.json`, {
    invented: true,
    sources: truth.sources.map((source) => ({
      ref: source.ref,
      side: source.side,
      fault: source.fault,
      powerW: round(source.watts, 4),
      mm: source.mm.map((value) => round(value, 3)),
      px: source.px.map((value) => round(value, 3)),
      bodyRiseK: round(source.bodyRiseK, 3),
    })),
    transform: truth.transform,
    noise: {
      sigmaK: round(truth.noise.sigmaK, 4),
      fixedPatternK: round(truth.noise.fixedPatternK, 4),
      badPixels: truth.noise.badPixels,
    },
    plate: {
      conductanceWPerK: round(truth.plate.conductanceWPerK, 5),
      lossWPerM2K: truth.plate.lossWPerM2K,
      heatCapacityJPerM2K: truth.plate.heatCapacityJPerM2K,
    },
    timesS: truth.timesS.map((value) => round(value, 3)),
    peakApparentRiseK: round(truth.peakApparentRiseK, 3),
    reflectionChangeK: round(truth.reflectionChangeK, 3),
  });
  if (scene.board.outline.length !== first.board.outline.length)
    throw new Error("the attempts differ in their board");
}

/** Write a frame as 16-bit grey PNG with its scale beside it, and read it back by another library. */
async function writePicture(stem: string, frame: SimFrame): Promise<void> {
  const { width, height } = frame;
  const levels = Uint16Array.from(frame.data, (value) => {
    const level = Math.round(((value - SCALE.lowC) / (SCALE.highC - SCALE.lowC)) * 65535);
    if (level < 0 || level > 65535) throw new Error(`${stem}: ${value} °C does not fit the scale`);
    return level;
  });
  const bytes = await sharp(levels, { raw: { width, height, channels: 1 } })
    .toColourspace("grey16")
    .png({ compressionLevel: 9 })
    .toBuffer();
  const file = join(HERE, `${stem}.png`);
  writeFileSync(file, bytes);
  const back = PNG.sync.read(readFileSync(file), { skipRescale: true });
  const read = back.data as unknown as Uint16Array;
  for (let k = 0; k < levels.length; k++) {
    if (read[4 * k] !== levels[k])
      throw new Error(`${stem}.png: pixel ${k} reads ${read[4 * k]}, not ${levels[k]}`);
  }
  writeJson(`${stem}.png.json`, { kind: "faultglow/scale", version: 1, ...SCALE });
}

/** JSON with short lists of numbers on one line. */
function writeJson(name: string, value: unknown): void {
  const text = JSON.stringify(value, null, 2).replace(
    /\[\s+(-?[\d.eE+-]+),\s+(-?[\d.eE+-]+)\s+\]/g,
    "[$1, $2]",
  );
  writeFileSync(join(HERE, name), `${text}\n`);
}

function round(value: number, digits: number): number {
  return Number(value.toFixed(digits));
}

await main();
