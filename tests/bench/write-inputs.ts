// bench: two simulated attempts → files as the command reads them.
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import sharp from "sharp";
import { makeScene } from "../simulate/make-scene.js";
import type { Kind, SimFrame } from "../simulate/scene.js";
import { frameCsv } from "../simulate/write-scene.js";

/** One attempt on disk. */
export interface BenchInput {
  readonly name: string;
  readonly what: string;
  /** How many times the start of an empty process it may take. */
  readonly limit: number;
  readonly files: {
    readonly board: string;
    readonly view: string;
    readonly baseline: readonly string[];
    readonly powered: readonly string[];
  };
  readonly rateHz: number | null;
  readonly scale: { readonly lowC: number; readonly highC: number } | null;
}

/** The words that make the command do it. */
export function wordsOf({ files, rateHz, scale }: BenchInput): string[] {
  const words = ["find", "--quiet", "--board", files.board, "--view", files.view];
  if (rateHz !== null) words.push("--rate", String(rateHz));
  if (scale !== null) words.push("--scale", `${scale.lowC}:${scale.highC}`);
  return [...words, "--baseline", ...files.baseline, "--powered", ...files.powered];
}

/** What is looked for: a frame's size, the number of powered frames, and about how many regions. */
interface Wanted {
  readonly name: string;
  readonly kind: Kind;
  readonly width: number;
  readonly height: number;
  readonly powered: number;
  readonly regions: readonly [number, number];
  readonly limit: number;
}

/** The two jobs that the tool is to do without anybody waiting for it. */
const WANTED: readonly Wanted[] = [
  { name: "pair", kind: "nudged", width: 384, height: 288, powered: 1, regions: [42, 60], limit: 10 },
  { name: "burst", kind: "burst", width: 160, height: 120, powered: 24, regions: [25, 60], limit: 20 },
];
/** Scenes looked at before giving up; one in some thirty fits. */
const MOST_SCENES = 600;
/** Scale of the 16-bit pictures, °C. */
const SCALE = { lowC: -20, highC: 120 };

/** Make the attempts and write them below a folder: as text, and the pair as 16-bit pictures too. */
export async function writeInputs(folder: string): Promise<BenchInput[]> {
  const out: BenchInput[] = [];
  for (const wanted of WANTED) {
    const scene = findScene(wanted);
    const place = join(folder, wanted.name);
    mkdirSync(place, { recursive: true });
    const board = join(place, "board.json");
    const view = join(place, "view.json");
    writeFileSync(board, JSON.stringify(scene.board));
    writeFileSync(view, JSON.stringify(scene.view));
    const frames = wanted.powered === 1 ? "a pair" : `${wanted.powered} powered frames`;
    for (const form of wanted.powered === 1 ? (["csv", "png"] as const) : (["csv"] as const)) {
      const write = async (role: string, list: readonly SimFrame[]): Promise<string[]> => {
        const names = list.map((_, i) => join(place, `${role}-${String(i).padStart(2, "0")}.${form}`));
        for (const [i, name] of names.entries()) {
          if (form === "csv") writeFileSync(name, frameCsv(list[i]!, 2));
          else await writePng(name, list[i]!);
        }
        return names;
      };
      out.push({
        name: `${wanted.name} (${form})`,
        what: `${frames} of ${wanted.width}×${wanted.height}, ${scene.board.regions.length} regions`,
        limit: wanted.limit,
        files: {
          board,
          view,
          baseline: await write("baseline", scene.baseline.slice(0, 1)),
          powered: await write("powered", scene.powered.slice(0, wanted.powered)),
        },
        rateHz: wanted.kind === "burst" ? scene.rateHz : null,
        scale: form === "png" ? SCALE : null,
      });
    }
  }
  return out;
}

function findScene(wanted: Wanted) {
  for (let seed = 90_000; seed < 90_000 + MOST_SCENES; seed++) {
    const scene = makeScene(wanted.kind, seed);
    const { width, height } = scene.baseline[0]!;
    const regions = scene.board.regions.length;
    if (width !== wanted.width || height !== wanted.height || scene.powered.length < wanted.powered) continue;
    if (regions >= wanted.regions[0] && regions <= wanted.regions[1]) return scene;
  }
  throw new Error(`none of ${MOST_SCENES} scenes is a ${wanted.name} as wanted`);
}

async function writePng(file: string, { width, height, data }: SimFrame): Promise<void> {
  const levels = Uint16Array.from(data, (valueC) => {
    const share = (valueC - SCALE.lowC) / (SCALE.highC - SCALE.lowC);
    return Math.round(65535 * Math.min(1, Math.max(0, share)));
  });
  await sharp(levels, { raw: { width, height, channels: 1 } })
    .toColourspace("grey16")
    .png()
    .toFile(file);
}
