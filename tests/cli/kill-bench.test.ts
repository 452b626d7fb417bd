// The page's server is killed while several people use it, again and again on one folder: nothing that it had confirmed
// is lost, every job is sound, and the next server goes on. FAULTGLOW_KILLS=100 kills as often as that.
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { checkLoadedJobs } from "../load/check-loaded-jobs.js";
import { type Confirmed, LoadClient } from "../load/load-client.js";
import { makeRandom } from "../simulate/random.js";
import { makeFolder } from "./make-frames.js";
import { startBenchProcess } from "./start-bench.js";

const KILLS = Number(process.env["FAULTGLOW_KILLS"] ?? 6);
const USERS = 5;
/** Requests that are begun before a kill, at the least. */
const LEAST_REQUESTS = 40;
/** Long enough for a server that no user comes to an end by itself. */
const ONE_HOUR_MS = 3_600_000;

let folder: string;
let remove: () => Promise<void>;
beforeAll(async () => {
  ({ folder, remove } = await makeFolder());
});
afterAll(() => remove());

it(
  `loses nothing that was confirmed when it is killed ${KILLS} times`,
  async () => {
    const jobs = join(folder, "jobs");
    const confirmed = new Map<string, Confirmed>();
    const random = makeRandom("kill bench 2031");
    let requests = 0;
    for (let kill = 0; kill < KILLS; kill++) {
      const bench = await startBenchProcess(jobs);
      const client = await LoadClient.open(bench, makeRandom(`kill bench ${kill}`), confirmed);
      const users = Array.from({ length: USERS }, () => client.use(performance.now() + ONE_HOUR_MS, 20));
      await new Promise((done) => setTimeout(done, random.uniform(600, 6000)));
      // On a busy machine nothing may have been done by then that could be lost.
      while (client.counts.requests < LEAST_REQUESTS && client.faults.length === 0)
        await new Promise((done) => setTimeout(done, random.uniform(20, 200)));
      client.stop();
      await bench.kill();
      await Promise.all(users);
      expect(client.faults).toEqual([]);
      expect(bench.err()).toBe("");
      requests += client.counts.requests;
    }
    const check = await checkLoadedJobs(jobs, confirmed, { wasKilled: true });
    console.info(
      `${KILLS} kills, ${requests} requests: ${check.jobs} jobs, ${check.attempts} attempts computed again, ` +
        `${check.lines} lines and ${check.dropped} dropped files found`,
    );
    expect(check.problems).toEqual([]);
    // Something was there to be lost.
    expect(check.jobs).toBeGreaterThan(3);
    expect(Math.min(check.lines, check.dropped)).toBeGreaterThan(KILLS / 2);
  },
  120_000 + KILLS * 120_000,
);
