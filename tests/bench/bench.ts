// bench: `npm run bench` → how long the command takes, in units of an empty process, and which stage takes it.
// No pass or fail, and no part of the tests: a yardstick, which a busy machine bends. Rounds alternate between what is
// compared, and medians are taken, so that a slow minute slows all of them.
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { medianTime } from "./median-time.js";
import { type BenchInput, wordsOf, writeInputs } from "./write-inputs.js";

const COMMAND = fileURLToPath(new URL("../../bin/faultglow.js", import.meta.url));
const PROFILE = fileURLToPath(new URL("profile-find.mjs", import.meta.url));
/** Rounds over all; the first one only fills the system's cache of files. */
const ROUNDS = 9;
const PROFILES = 3;

const folder = mkdtempSync(join(tmpdir(), "faultglow-bench-"));
try {
  process.stdout.write("Making the frames …\n");
  const inputs = await writeInputs(folder);
  printProcesses(inputs, timeProcesses(inputs));
  for (const input of inputs) printStages(input);
} finally {
  rmSync(folder, { recursive: true, force: true });
}

/** Milliseconds of every round but the first, by name. */
function timeProcesses(inputs: readonly BenchInput[]): Map<string, number[]> {
  const jobs = new Map<string, readonly string[]>([
    ["node -e 0", ["-e", "0"]],
    ["--version", [COMMAND, "--version"]],
    ...inputs.map((input) => [input.name, [COMMAND, ...wordsOf(input)]] as const),
  ]);
  const times = new Map([...jobs.keys()].map((name) => [name, [] as number[]]));
  for (let round = 0; round <= ROUNDS; round++) {
    for (const [name, words] of jobs) {
      const start = performance.now();
      run(words);
      if (round > 0) times.get(name)!.push(performance.now() - start);
    }
  }
  return times;
}

function printProcesses(inputs: readonly BenchInput[], times: ReadonlyMap<string, number[]>): void {
  const unit = medianTime(times.get("node -e 0")!);
  process.stdout.write(`\n${"process".padEnd(14)}      ms   × node -e 0   at most\n`);
  for (const [name, list] of times) {
    const input = inputs.find((one) => one.name === name);
    const ms = medianTime(list).toFixed(0).padStart(7);
    const ratio = (medianTime(list) / unit).toFixed(1).padStart(12);
    const limit = input === undefined ? "" : `${String(input.limit).padStart(9)}   ${input.what}`;
    process.stdout.write(`${name.padEnd(14)} ${ms} ${ratio} ${limit}\n`);
  }
}

/** Stages by the least of a few profiles: what is above it is the machine's doing. */
function printStages(input: BenchInput): void {
  const least = new Map<string, number>();
  for (let k = 0; k < PROFILES; k++) {
    const times = JSON.parse(run([PROFILE, JSON.stringify(input)])) as Record<string, number>;
    for (const [stage, ms] of Object.entries(times)) {
      least.set(stage, Math.min(ms, least.get(stage) ?? Number.POSITIVE_INFINITY));
    }
  }
  process.stdout.write(`\n${input.name}: ms by stage, cold, start of the process left out\n`);
  for (const [stage, ms] of [...least].sort((a, b) => b[1] - a[1])) {
    process.stdout.write(`  ${stage.padEnd(20)} ${ms.toFixed(0).padStart(5)}\n`);
  }
}

function run(words: readonly string[]): string {
  const { status, stdout, stderr } = spawnSync(process.execPath, words, { encoding: "utf8" });
  if (status !== 0) throw new Error(`${words.slice(0, 2).join(" ")} … ended with ${status}: ${stderr}`);
  return stdout;
}
