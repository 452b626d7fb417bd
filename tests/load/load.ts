// npm run load: a bench in a process of its own, used by many at once for some minutes; memory over time, and whether
// every job is sound and holds all that was confirmed.
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { startBenchProcess } from "../cli/start-bench.js";
import { makeRandom } from "../simulate/random.js";
import { checkLoadedJobs } from "./check-loaded-jobs.js";
import { LoadClient } from "./load-client.js";
import { isLevel, type LoadFigures, processFigures } from "./process-figures.js";

const { values } = parseArgs({
  options: {
    minutes: { type: "string", default: "60" },
    users: { type: "string", default: "6" },
    /** Pause of each user between two things, ms, on average. */
    pause: { type: "string", default: "400" },
    seed: { type: "string", default: "2031" },
    help: { type: "boolean", default: false },
  },
});
if (values.help) {
  console.log("npm run load -- [--minutes 60] [--users 6] [--pause MS] [--seed TEXT]");
  process.exit(0);
}
const [minutes, users, pauseMs] = [values.minutes, values.users, values.pause].map((text) => {
  const number = Number(text);
  if (!(number > 0 && number <= 10_000)) throw new Error(`expected a number above 0, found ${text}`);
  return number;
}) as [number, number, number];

const folder = await mkdtemp(join(tmpdir(), "faultglow-load-"));
const bench = await startBenchProcess(folder);
console.log(`seed ${values.seed}, ${minutes} minutes, ${users} users, a pause of ${pauseMs} ms on average\n`);
console.log("minute  requests  refused  jobs  attempts  bench MiB  workers MiB  open files");

const client = await LoadClient.open(bench, makeRandom(`load ${values.seed}`));
const endMs = performance.now() + minutes * 60_000;
const all: LoadFigures[] = [];
const beganMs = performance.now();
const look = async (): Promise<void> => {
  const now = await processFigures(bench.child.pid!);
  all.push(now);
  const { requests, refused, jobs, attempts } = client.counts;
  const cells = [
    ((performance.now() - beganMs) / 60_000).toFixed(1).padStart(6),
    String(requests).padStart(9),
    String(refused).padStart(8),
    String(jobs).padStart(5),
    String(attempts).padStart(9),
    now.ownMiB.toFixed(0).padStart(10),
    now.workersMiB.toFixed(0).padStart(12),
    String(now.files ?? "–").padStart(11),
  ];
  console.log(cells.join(" "));
};
const timer = setInterval(() => void look(), Math.max(5000, (minutes * 60_000) / 30));
const problems: string[] = [];
try {
  await Promise.all(Array.from({ length: users }, () => client.use(endMs, pauseMs)));
  await client.settle();
  await look();
  problems.push(...client.faults);
} finally {
  clearInterval(timer);
}
const waited = [...client.waitedMs].sort((a, b) => a - b);
const withinMs = (share: number): string => `${waited[Math.ceil(share * waited.length) - 1]?.toFixed(0)} ms`;
console.log(
  `\nAnswers to ${waited.length} calls: half within ${withinMs(0.5)}, 99 % within ${withinMs(0.99)}, the slowest ${withinMs(1)}.`,
);
const status = await bench.stop();
if (status !== 0) problems.push(`the bench ended with ${status}`);
if (bench.err() !== "") problems.push(`the bench said: ${bench.err().slice(0, 2000)}`);
const level = isLevel(all.map(({ ownMiB }) => ownMiB));
console.log(`Memory of the bench: ${level.text}`);
if (!level.level) problems.push("its memory grows");
const checked = await checkLoadedJobs(folder, client.confirmed);
console.log(
  `${checked.jobs} jobs, ${checked.same} of ${checked.attempts} attempts the same when computed again, ${checked.lines} of ${checked.confirmedLines} confirmed lines found, ${checked.dropped} dropped files found whole.`,
);
problems.push(...checked.problems);
for (const problem of problems) console.log(`PROBLEM: ${problem}`);
console.log(problems.length === 0 ? "All sound." : `${problems.length} problems; the jobs stay in ${folder}`);
if (problems.length === 0) await rm(folder, { recursive: true });
process.exitCode = problems.length === 0 ? 0 : 1;
