// bench: `npx tsx tests/bench/bench-reading.ts` after a build → how long reading a frame takes, beside libraries that read the same
// file. No pass or fail. Both sides are warmed; rounds alternate between them, so that a slow minute slows both; their
// results are compared outside what is timed.
import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import sharp from "sharp";
import { makeRandom } from "../simulate/random.js";

const PEERS = fileURLToPath(new URL("read-peers.py", import.meta.url));
const LIBRARY = "../../dist/index.js";
const { readFrames } = (await import(LIBRARY)) as typeof import("../../src/index.js");
const [WIDTH, HEIGHT] = [640, 480];
const SCALE = { lowC: -20, highC: 120 };
const ROUNDS = 5;
/** Readings in a round; their median is the round's. */
const REPEATS = 15;

/** Where the system keeps its own libraries; else whatever Python comes first. */
const PYTHON = existsSync("/usr/bin/python3") ? "/usr/bin/python3" : "python3";

/** A file, who reads it as well, and the most that ours may take of the peer's time. */
interface Case {
  readonly name: string;
  readonly file: string;
  readonly peer: "loadtxt" | "imread";
  readonly bar: number;
  readonly aim: number;
  readonly scale: typeof SCALE | null;
}

/** Milliseconds and the sum of the values, °C. */
interface Timed {
  readonly ms: number;
  readonly sum: number;
}

const folder = mkdtempSync(join(tmpdir(), "faultglow-reading-"));
try {
  const cases = await makeCases();
  process.stdout.write(`${WIDTH}×${HEIGHT}, ms         ours     peer    ours ÷ peer   at most   aim\n`);
  for (const one of cases) await printCase(one);
} finally {
  rmSync(folder, { recursive: true, force: true });
}

async function makeCases(): Promise<Case[]> {
  const random = makeRandom("reading bench");
  const values = Float64Array.from({ length: WIDTH * HEIGHT }, () => random.uniform(8, 98));
  const rows = (word: (value: number) => string): string =>
    Array.from({ length: HEIGHT }, (_, y) =>
      Array.from(values.subarray(y * WIDTH, (y + 1) * WIDTH), word).join(","),
    ).join("\n");
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
  const levels = Uint16Array.from(values, (value) => Math.round(600 * value));
  await sharp(levels, { raw: { width: WIDTH, height: HEIGHT, channels: 1 } })
    .toColourspace("grey16")
    .png()
    .toFile(png);
  return [
    { name: "CSV, fixed width", file: fixed, peer: "loadtxt", bar: 0.35, aim: 0.2, scale: null },
    { name: "CSV, free width", file: free, peer: "loadtxt", bar: 0.5, aim: 0.25, scale: null },
    { name: "PNG, 16 bits", file: png, peer: "imread", bar: 1.3, aim: 0.7, scale: SCALE },
  ];
}

async function printCase(one: Case): Promise<void> {
  const ours: Timed[] = [];
  const peers: Timed[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    ours.push(await timeOurs(one));
    const peer = timePeer(one);
    if (peer !== null) peers.push(peer);
  }
  const own = median(ours.map(({ ms }) => ms));
  const head = `${one.name.padEnd(18)} ${own.toFixed(1).padStart(8)}`;
  const peer = peers[0];
  if (peer === undefined) {
    process.stdout.write(
      `${head}  (no python3 with ${one.peer === "imread" ? "cv2 and " : ""}numpy here: no peer)\n`,
    );
    return;
  }
  const apart = Math.abs(ours[0]!.sum - peer.sum) / (WIDTH * HEIGHT);
  if (apart > 1e-4) throw new Error(`${one.name}: means are ${apart} K apart, so they did not read the same`);
  const other = median(peers.map(({ ms }) => ms));
  const ratios = ours.map(({ ms }, k) => ms / peers[k]!.ms).sort((a, b) => a - b);
  const spread = `${ratios[0]!.toFixed(2)}–${ratios.at(-1)!.toFixed(2)}`;
  process.stdout.write(
    `${head} ${other.toFixed(1).padStart(8)}   ${median(ratios).toFixed(2)} (${spread})   ${one.bar}   ${one.aim}\n`,
  );
}

async function timeOurs({ file, scale }: Case): Promise<Timed> {
  const times: number[] = [];
  let sum = 0;
  for (let k = 0; k < REPEATS; k++) {
    const start = performance.now();
    const { frames } = await readFrames([file], scale === null ? {} : { scale });
    times.push(performance.now() - start);
    sum = frames[0]!.raster.data.reduce((a, b) => a + b, 0);
  }
  return { ms: median(times), sum };
}

/** Null where Python or a library is missing. */
function timePeer({ peer, file }: Case): Timed | null {
  const words = [PEERS, peer, file, String(REPEATS), String(SCALE.lowC), String(SCALE.highC)];
  const { status, stdout, stderr } = spawnSync(PYTHON, words, { encoding: "utf8" });
  if (status === 0) return JSON.parse(stdout) as Timed;
  if (status === null || /ModuleNotFoundError/.test(stderr)) return null;
  throw new Error(`the peer ended with ${status}: ${stderr}`);
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1]!;
}
