// bench: `npx tsx tests/bench/bench-peers.ts` after a build → the table of the plain chain, whole processes, bursts and
// memory, beside libraries that do the same. No pass or fail. Rounds alternate between what is compared; ratios are of
// each round, their median with their range; every result is compared outside what is timed.
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { frameCsv } from "../simulate/write-scene.js";
import { CHAIN_SCENE, chainFrames } from "./chain-frames.js";
import { medianTime } from "./median-time.js";
import { PYTHON } from "./peer-python.js";
import { plainChain } from "./plain-chain.js";
import { TELL_PEAK, toldPeakMb } from "./tell-peak.js";
import { wordsOf, writeInputs } from "./write-inputs.js";
import { LONG_BURST, writeLongBurst } from "./write-long-burst.js";

const COMMAND = fileURLToPath(new URL("../../bin/faultglow.js", import.meta.url));
const PEERS = fileURLToPath(new URL("chain-peers.py", import.meta.url));
const [WIDTH, HEIGHT] = [640, 480];
const ROUNDS = 5;
const REPEATS = 15;
const BURST_FRAMES = 250;

/** A file of certificates that a machine may tell Node to read at each start. That takes as long as the rest of the
 *  start, is none of the tool's work, and the peers know nothing of it: where it is set, processes are timed both ways.
 */
const { NODE_EXTRA_CA_CERTS: certificates, ...bare } = process.env;
const WAYS = [
  { without: "", env: process.env },
  ...(certificates === undefined ? [] : [{ without: ", no extra certificates", env: bare }]),
];

/** Something that is timed, ms, and gives what it found. */
interface Timed {
  readonly ms: number;
  readonly spots: readonly (readonly [number, number])[] | null;
  readonly peakMb: number | null;
}

const folder = mkdtempSync(join(tmpdir(), "faultglow-peers-"));
try {
  process.stdout.write(
    `what                                        ours ms   peer ms   ratio (range)        bar   aim\n`,
  );
  await printRows();
} finally {
  rmSync(folder, { recursive: true, force: true });
}

async function printRows(): Promise<void> {
  const { baseline, powered } = chainFrames(WIDTH, HEIGHT);
  const files = ["baseline", "powered"].map((name) => join(folder, name)) as [string, string];
  const frame = (data: Float32Array) => ({ unit: "degC", width: WIDTH, height: HEIGHT, data }) as const;
  [baseline, powered].forEach((data, k) => {
    writeFileSync(`${files[k]}.f32`, data);
    writeFileSync(`${files[k]}.csv`, frameCsv(frame(data), 2));
  });
  const raw = files.map((file) => `${file}.f32`);
  const texts = files.map((file) => `${file}.csv`);
  const warm = (): Timed => {
    const times: number[] = [];
    let spots: Timed["spots"] = null;
    for (let k = 0; k < REPEATS; k++) {
      const start = performance.now();
      const found = plainChain(frame(baseline), frame(powered));
      times.push(performance.now() - start);
      spots = found.map(({ x, y }) => [x, y] as const);
    }
    return { ms: medianTime(times), spots, peakMb: null };
  };
  const size = [String(WIDTH), String(HEIGHT), String(REPEATS)];
  row("plain chain, warm; peer OpenCV", warm, () => peer(["warm", "cv", ...size, ...raw]), 0.6, 0.3);
  row("… peer SciPy, OpenCV and SEP", warm, () => peer(["warm", "mix", ...size, ...raw]), 1.2, 0.6);
  const findWords = ["find", "--json", "--quiet", "--baseline", texts[0]!, "--powered", texts[1]!];
  for (const { without, env } of WAYS) {
    row(
      without === "" ? "find without a board; peer numpy and SEP" : `…${without}`,
      () => ours(findWords, env),
      () => peer(["pair", "sep", ...texts]),
      1,
      0.75,
    );
  }
  const inputs = await writeInputs(folder);
  const pair = inputs[0]!;
  for (const { without, env } of WAYS) {
    const timed = (words: readonly string[]): number =>
      medianTime(Array.from({ length: ROUNDS }, () => run(process.execPath, words, env).ms));
    const [empty, help] = [timed(["-e", "0"]), timed([COMMAND, "--help"])];
    const whole = timed([COMMAND, ...wordsOf(pair)]);
    process.stdout.write(
      `find with ${pair.what}${without}: ${whole.toFixed(0)} ms; node -e 0 takes ${empty.toFixed(0)} ms, so ${(whole - empty).toFixed(0)} ms above it (at most 350, aim 150)\n` +
        `--help${without}: ${help.toFixed(0)} ms, ${(help / empty).toFixed(2)} × node -e 0 (at most 1.6)\n`,
    );
  }
  for (const form of ["csv", "png"] as const) {
    const place = join(folder, form);
    const { baseline: before, powered: after } = writeLongBurst(place, BURST_FRAMES, form);
    const scale = LONG_BURST.scale.split(":");
    const rate = ["--rate", String(LONG_BURST.rateHz)];
    const words = [
      "find",
      "--json",
      "--quiet",
      ...(form === "png" ? ["--scale", LONG_BURST.scale] : []),
      ...rate,
    ];
    const [bar, aim] = form === "csv" ? [0.6, 0.35] : [0.9, 0.5];
    row(
      `burst of ${BURST_FRAMES}, ${form.toUpperCase()}; peer OpenCV`,
      () => ours([...words, "--baseline", before, "--powered", after]),
      () => peer(["burst", form === "csv" ? "loadtxt" : "imread", ...scale, before, after]),
      bar,
      aim,
      false,
    );
  }
  const teller = join(folder, "tell-peak.cjs");
  writeFileSync(teller, TELL_PEAK);
  const peakOf = (words: readonly string[]): number =>
    medianTime(Array.from({ length: 3 }, () => peakMb(teller, words)));
  const own = peakOf(findWords);
  const withBoard = peakOf(wordsOf(pair));
  const other = peer(["pair", "cv", ...texts])?.peakMb ?? null;
  process.stdout.write(
    `peak memory, MB: find ${own.toFixed(0)}, with a board ${withBoard.toFixed(0)}` +
      (other === null
        ? "  (no python3 with cv2 and numpy here: no peer)\n"
        : `; OpenCV's process ${other.toFixed(0)}: ${(own / other).toFixed(2)} (bar 0.7, aim 0.5)\n`),
  );
}

function row(
  name: string,
  own: () => Timed,
  other: () => Timed | null,
  bar: number,
  aim: number,
  sameSpots = true,
): void {
  own();
  const mine: number[] = [];
  const theirs: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const a = own();
    const b = other();
    mine.push(a.ms);
    if (b === null) continue;
    theirs.push(b.ms);
    if (sameSpots) {
      checkSpots(`${name}, ours`, a.spots ?? []);
      checkSpots(`${name}, peer`, b.spots ?? []);
    }
  }
  const head = `${name.padEnd(42)} ${medianTime(mine).toFixed(1).padStart(8)}`;
  if (theirs.length === 0) {
    process.stdout.write(`${head}  (no python3 with the peer's libraries here: no peer)\n`);
    return;
  }
  const ratios = mine.map((ms, k) => ms / theirs[k]!).sort((a, b) => a - b);
  const range = `${medianTime(ratios).toFixed(2)} (${ratios[0]!.toFixed(2)}–${ratios.at(-1)!.toFixed(2)})`;
  process.stdout.write(
    `${head} ${medianTime(theirs).toFixed(1).padStart(9)}   ${range.padEnd(18)} ${String(bar).padStart(5)} ${String(aim).padStart(5)}\n`,
  );
}

/** The warm places of the scene are among what was found, each within two pixels. */
function checkSpots(who: string, spots: readonly (readonly [number, number])[]): void {
  for (const { x, y } of CHAIN_SCENE.spots) {
    if (spots.some(([u, v]) => Math.hypot(u - x * WIDTH, v - y * HEIGHT) < 2)) continue;
    throw new Error(
      `${who}: nothing was found at ${x * WIDTH}, ${y * HEIGHT}: ${JSON.stringify(spots.slice(0, 5))}`,
    );
  }
}

function ours(words: readonly string[], env = process.env): Timed {
  const { ms, stdout } = run(process.execPath, [COMMAND, ...words], env);
  if (!words.includes("--json")) return { ms, spots: null, peakMb: null };
  const { hotspots } = JSON.parse(stdout) as { hotspots: readonly { sourcePx: readonly [number, number] }[] };
  return { ms, spots: hotspots.map(({ sourcePx }) => sourcePx), peakMb: null };
}

/** In runs of their own: what tells the peak is a file more to load, which nobody's times are to hold. */
function peakMb(teller: string, words: readonly string[]): number {
  const { stderr } = run(process.execPath, ["--require", teller, COMMAND, ...words]);
  return toldPeakMb(stderr);
}

/** Null where Python or a library is missing. */
function peer(words: readonly string[]): Timed | null {
  const start = performance.now();
  const { status, stdout, stderr } = spawnSync(PYTHON, [PEERS, ...words], {
    encoding: "utf8",
    env: { ...process.env, OMP_NUM_THREADS: "1", OPENBLAS_NUM_THREADS: "1" },
  });
  const ms = performance.now() - start;
  if (status === null || /ModuleNotFoundError/.test(stderr)) return null;
  if (status !== 0) throw new Error(`the peer ended with ${status}: ${stderr}`);
  const answer = JSON.parse(stdout) as { ms?: number; spots: [number, number][]; peakMb?: number };
  return { ms: answer.ms ?? ms, spots: answer.spots, peakMb: answer.peakMb ?? null };
}

function run(
  program: string,
  words: readonly string[],
  env = process.env,
): { ms: number; stdout: string; stderr: string } {
  const start = performance.now();
  const { status, stdout, stderr } = spawnSync(program, words, { encoding: "utf8", maxBuffer: 2 ** 28, env });
  if (status !== 0) throw new Error(`${words.slice(0, 4).join(" ")} … ended with ${status}: ${stderr}`);
  return { ms: performance.now() - start, stdout, stderr };
}
