// bench: `npx tsx tests/bench/bench-processor.ts` after a build → processor time of whole commands: of the main thread,
// which on a quiet machine is how long one waits, and of all threads; and the most memory they held. By Linux's own
// count in nanoseconds (man 5 proc, schedstat), so that a busy machine bends it less than a clock: it still shares
// caches, and cores their units.
import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { SAMPLE_MAP } from "../browser/sample-board.js";
import { BURST, BURST_VIEW, writeBurst } from "../browser/write-burst.js";
import { frameCsv } from "../simulate/write-scene.js";
import { chainFrames } from "./chain-frames.js";
import { medianTime } from "./median-time.js";
import { wordsOf, writeInputs } from "./write-inputs.js";
import { LONG_BURST, writeLongBurst } from "./write-long-burst.js";

const COMMAND = fileURLToPath(new URL("../../bin/faultglow.js", import.meta.url));
const ROUNDS = 5;
const FRAMES = 250;
const [WIDTH, HEIGHT] = [640, 480];
/** Written by the process as it ends: nanoseconds of its main thread, microseconds of all, KB. */
const TELL = `
import { readFileSync, writeFileSync } from "node:fs";
process.on("exit", () => {
  const main = readFileSync("/proc/self/task/" + process.pid + "/schedstat", "utf8").split(" ")[0];
  const { user, system } = process.cpuUsage();
  writeFileSync(process.env.FAULTGLOW_TELL, JSON.stringify({
    mainMs: main / 1e6, allMs: (user + system) / 1e3, peakMb: process.resourceUsage().maxRSS / 1024 }));
});`;

interface Told {
  readonly mainMs: number;
  readonly allMs: number;
  readonly peakMb: number;
}

if (!existsSync("/proc/self/schedstat")) process.stdout.write("This system does not tell schedstat.\n");
else {
  const folder = mkdtempSync(join(tmpdir(), "faultglow-processor-"));
  try {
    await print(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function print(folder: string): Promise<void> {
  const jobs = await jobsIn(folder);
  const told = new Map<string, Told[]>();
  for (let round = 0; round < ROUNDS; round++) {
    for (const [name, words] of jobs) told.set(name, [...(told.get(name) ?? []), run(folder, words)]);
  }
  const unit = medianTime(told.get("node -e 0")!.map(({ mainMs }) => mainMs));
  process.stdout.write(
    `process                     main thread, ms   × node -e 0   all threads, ms   peak MB\n`,
  );
  for (const [name, list] of told) {
    const [main, all, peak] = (["mainMs", "allMs", "peakMb"] as const).map((key) =>
      medianTime(list.map((one) => one[key])),
    );
    const cells = [main!.toFixed(0).padStart(16), (main! / unit).toFixed(1).padStart(13)];
    process.stdout.write(
      `${name.padEnd(27)} ${cells.join(" ")} ${all!.toFixed(0).padStart(17)} ${peak!.toFixed(0).padStart(9)}\n`,
    );
  }
  process.stdout.write(`Medians of ${ROUNDS} rounds; load of the machine ${loadavg()[0]!.toFixed(1)}.\n`);
}

/** What is run, by name: the words for node. */
async function jobsIn(folder: string): Promise<Map<string, readonly string[]>> {
  const jobs = new Map<string, readonly string[]>([
    ["node -e 0", ["-e", "0"]],
    ["--version", [COMMAND, "--version"]],
  ]);
  for (const input of await writeInputs(folder))
    jobs.set(`find, ${input.name}`, [COMMAND, ...wordsOf(input)]);
  const pair = Object.entries(chainFrames(WIDTH, HEIGHT)).map(([name, data]) => {
    const file = join(folder, `${name}.csv`);
    writeFileSync(file, frameCsv({ unit: "degC", width: WIDTH, height: HEIGHT, data } as never, 2));
    return [`--${name}`, file];
  });
  jobs.set(`find, ${WIDTH}×${HEIGHT}, no board`, [COMMAND, "find", "--quiet", ...pair.flat()]);
  for (const form of ["csv", "png"] as const) {
    const { baseline, powered } = writeLongBurst(join(folder, form), FRAMES, form);
    const scale = form === "png" ? [`--scale=${LONG_BURST.scale}`] : [];
    const rate = ["--rate", String(LONG_BURST.rateHz)];
    const files = ["--baseline", baseline, "--powered", powered];
    jobs.set(`find, ${FRAMES} of 256×192, ${form}`, [
      COMMAND,
      "find",
      "--quiet",
      ...scale,
      ...rate,
      ...files,
    ]);
  }
  const place = join(folder, "large");
  writeBurst(place, FRAMES);
  const board = join(folder, "board.json");
  const view = join(folder, "view.json");
  writeFileSync(board, JSON.stringify(SAMPLE_MAP));
  writeFileSync(view, JSON.stringify(BURST_VIEW));
  jobs.set(`find, ${FRAMES} of ${BURST.width}×${BURST.height}, png`, [
    ...[COMMAND, "find", "--quiet", "--rate", String(BURST.rateHz), "--board", board, "--view", view],
    ...["--baseline", join(place, "baseline-*.png"), "--powered", join(place, "powered-*.png")],
  ]);
  return jobs;
}

function run(folder: string, words: readonly string[]): Told {
  const file = join(folder, "told.json");
  const { status, stderr } = spawnSync(
    process.execPath,
    ["--import", `data:text/javascript,${encodeURIComponent(TELL)}`, ...words],
    { encoding: "utf8", env: { ...process.env, FAULTGLOW_TELL: file } },
  );
  if (status !== 0) throw new Error(`${words.slice(0, 3).join(" ")} … ended with ${status}: ${stderr}`);
  return JSON.parse(readFileSync(file, "utf8")) as Told;
}
