// bench: `npx tsx tests/bench/bench-reading.ts` after a build → how long reading a frame, and a burst, takes, beside
// libraries that read the same files. No pass or fail. Both sides are warmed; rounds alternate between them, so that a
// slow minute slows both; their results are compared outside what is timed.
import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import sharp from "sharp";
import { makeRandom } from "../simulate/random.js";
import { medianTime } from "./median-time.js";
import { PYTHON } from "./peer-python.js";

const PEERS = fileURLToPath(new URL("read-peers.py", import.meta.url));
const LIBRARY = "../../dist/index.js";
const { readFrames } = (await import(LIBRARY)) as typeof import("../../src/index.js");
const [WIDTH, HEIGHT] = [640, 480];
const SCALE = { lowC: -20, highC: 120 };
const ROUNDS = 5;
/** Readings in a round; their median is the round's. */
const REPEATS = 15;

/** Frames of a burst, and their size. */
const BURST = { frames: 250, width: 256, height: 192, repeats: 3 };

/** A file or a folder, who reads it as well, and the most that ours may take of the peer's time. */
interface Case {
  readonly name: string;
  readonly file: string;
  readonly peer: "loadtxt" | "imread";
  readonly bar: number;
  readonly aim: number;
  readonly scale: typeof SCALE | null;
  /** In all frames. */
  readonly pixels: number;
  readonly repeats: number;
}

/** Milliseconds and the sum of the values, °C. */
interface Timed {
  readonly ms: number;
  readonly sum: number;
}

const folder = mkdtempSync(join(tmpdir(), "faultglow-reading-"));
try {
  const cases = await makeCases();
  process.stdout.write(
    `Frames of ${WIDTH}×${HEIGHT}; bursts of ${BURST.frames} of ${BURST.width}×${BURST.height}, read and not analysed\n` +
      `ms                     ours     peer    ours ÷ peer   at most   aim\n`,
  );
  for (const one of cases) await printCase(one);
} finally {
  rmSync(folder, { recursive: true, force: true });
}

async function makeCases(): Promise<Case[]> {
  const random = makeRandom("reading bench");
  const values = Float64Array.from({ length: WIDTH * HEIGHT }, () => random.uniform(8, 98));
  const rows = (word: (value: number) => string): string => rowsOf(values, WIDTH, word);
  const fixed = join(folder, "fixed.csv");
  const free = join(folder, "free.csv");
  const png = join(folder, "levels.png");
  writeFileSync(
    fixed,
    rows((value) => (10 + (value * 80) / 98).toFixed(2)),
  );
  // As many digits as each number happens to need.
  writeFileSync(
    free,
    rows((value) => String(Number(value.toPrecision(3 + random.integer(0, 3))))),
  );
  await writePng(png, values, WIDTH, HEIGHT);
  const text = { peer: "loadtxt", scale: null } as const;
  const picture = { peer: "imread", scale: SCALE } as const;
  const one = { pixels: WIDTH * HEIGHT, repeats: REPEATS };
  const many = { pixels: BURST.frames * BURST.width * BURST.height, repeats: BURST.repeats };
  const bursts = await writeBursts();
  return [
    { name: "CSV, fixed width", file: fixed, ...text, bar: 0.35, aim: 0.2, ...one },
    { name: "CSV, free width", file: free, ...text, bar: 0.5, aim: 0.25, ...one },
    { name: "PNG, 16 bits", file: png, ...picture, bar: 1.3, aim: 0.7, ...one },
    { name: "burst, CSV", file: bursts.csv, ...text, bar: 0.6, aim: 0.35, ...many },
    { name: "burst, PNG", file: bursts.png, ...picture, bar: 0.9, aim: 0.5, ...many },
  ];
}

async function writeBursts(): Promise<{ csv: string; png: string }> {
  const random = makeRandom("reading bench, bursts");
  const [csv, png] = [join(folder, "csv"), join(folder, "png")];
  for (const one of [csv, png]) mkdirSync(one);
  const { frames, width, height } = BURST;
  for (let k = 0; k < frames; k++) {
    // Noise of a camera on a smooth scene: what a picture packs to depends on it.
    const values = Float64Array.from(
      { length: width * height },
      (_, i) => 24 + 3 * Math.sin((i % width) / 40) + 0.04 * random.normal(),
    );
    writeFileSync(
      join(csv, `${k}.csv`),
      rowsOf(values, width, (value) => value.toFixed(2)),
    );
    await writePng(join(png, `${k}.png`), values, width, height);
  }
  return { csv, png };
}

function rowsOf(values: Float64Array, width: number, word: (value: number) => string): string {
  return Array.from({ length: values.length / width }, (_, y) =>
    Array.from(values.subarray(y * width, (y + 1) * width), word).join(","),
  ).join("\n");
}

async function writePng(file: string, values: Float64Array, width: number, height: number): Promise<void> {
  const levels = Uint16Array.from(values, (value) => Math.round(600 * value));
  await sharp(levels, { raw: { width, height, channels: 1 } })
    .toColourspace("grey16")
    .png()
    .toFile(file);
}

async function printCase(one: Case): Promise<void> {
  const ours: Timed[] = [];
  const peers: Timed[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    ours.push(await timeOurs(one));
    const peer = timePeer(one);
    if (peer !== null) peers.push(peer);
  }
  const own = medianTime(ours.map(({ ms }) => ms));
  const head = `${one.name.padEnd(18)} ${own.toFixed(1).padStart(8)}`;
  const peer = peers[0];
  if (peer === undefined) {
    process.stdout.write(
      `${head}  (no python3 with ${one.peer === "imread" ? "cv2 and " : ""}numpy here: no peer)\n`,
    );
    return;
  }
  const apart = Math.abs(ours[0]!.sum - peer.sum) / one.pixels;
  if (apart > 1e-4) throw new Error(`${one.name}: means are ${apart} K apart, so they did not read the same`);
  const other = medianTime(peers.map(({ ms }) => ms));
  const ratios = ours.map(({ ms }, k) => ms / peers[k]!.ms).sort((a, b) => a - b);
  const spread = `${ratios[0]!.toFixed(2)}–${ratios.at(-1)!.toFixed(2)}`;
  process.stdout.write(
    `${head} ${other.toFixed(1).padStart(8)}   ${medianTime(ratios).toFixed(2)} (${spread})   ${one.bar}   ${one.aim}\n`,
  );
}

async function timeOurs({ file, scale, repeats }: Case): Promise<Timed> {
  const times: number[] = [];
  let sum = 0;
  for (let k = 0; k < repeats; k++) {
    const start = performance.now();
    const { frames } = await readFrames([file], scale === null ? {} : { scale });
    times.push(performance.now() - start);
    sum = frames.reduce((all, { raster }) => all + raster.data.reduce((a, b) => a + b, 0), 0);
  }
  return { ms: medianTime(times), sum };
}

/** Null where Python or a library is missing. */
function timePeer({ peer, file, repeats }: Case): Timed | null {
  const words = [PEERS, peer, file, String(repeats), String(SCALE.lowC), String(SCALE.highC)];
  const { status, stdout, stderr } = spawnSync(PYTHON, words, { encoding: "utf8" });
  if (status === 0) return JSON.parse(stdout) as Timed;
  if (status === null || /ModuleNotFoundError/.test(stderr)) return null;
  throw new Error(`the peer ended with ${status}: ${stderr}`);
}
