// The watch is killed at random moments while frames keep dropping: in the end every frame is in one attempt, none in
// two, and the job is sound. FAULTGLOW_KILLS=50 kills as often as that.
import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdir, readdir } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { checkJob } from "../../src/store/check-job.js";
import { openJob } from "../../src/store/open-job.js";
import { makeRandom } from "../simulate/random.js";
import { makeFolder, makeFrame, SPOT, writeCsv } from "./make-frames.js";
import { BIN, runCli, VERSION } from "./run-cli.js";

const KILLS = Number(process.env["FAULTGLOW_KILLS"] ?? 5);
const QUICK = ["--settle", "0.2", "--gap", "0.6", "--patience", "0.6", "--no-report"];
const CHECK = { toolVersion: VERSION };

let cwd: string;
let remove: () => Promise<void>;
beforeAll(async () => {
  ({ folder: cwd, remove } = await makeFolder());
  await mkdir(join(cwd, "in"));
  expect((await runCli(["job", "new", "job", "--device", "soil meter"], { cwd })).status).toBe(0);
});
afterAll(() => remove());

it(
  `takes every frame once although it is killed ${KILLS} times`,
  async () => {
    const random = makeRandom("kill watch 2031");
    await writeCsv(join(cwd, "in/off-1.csv"), makeFrame(1, 0, 40, 30));
    for (let kill = 1; kill <= KILLS; kill++) {
      const words = ["watch", "in", "--job", "job", ...QUICK];
      const child = spawn(process.execPath, [BIN, ...words], {
        cwd,
        stdio: "ignore",
      });
      const ended = once(child, "exit");
      // Longer apart than the gap: each is an attempt of its own.
      await new Promise((done) => setTimeout(done, random.uniform(700, 1200)));
      await writeCsv(join(cwd, `in/on-${kill}.csv`), makeFrame(10 + kill, SPOT.peakK, 40, 30));
      await new Promise((done) => setTimeout(done, random.uniform(200, 3500)));
      child.kill("SIGKILL");
      expect((await ended)[1]).toBe("SIGKILL");
      const check = await checkJob(join(cwd, "job"), { ...CHECK, recompute: false });
      expect(check.sound).toBe(true);
    }
    expect((await runCli(["watch", "in", "--job", "job", ...QUICK, "--once"], { cwd })).status).toBe(0);
    const { attempts } = await openJob(join(cwd, "job"), CHECK);
    const powered = attempts.flatMap(({ attempt }) =>
      attempt.views[0]!.powered.map(({ name }) => name.replace(/^.*\//, "")),
    );
    expect(powered.sort()).toEqual(Array.from({ length: KILLS }, (_, i) => `on-${i + 1}.csv`).sort());
    expect(await checkJob(join(cwd, "job"), CHECK)).toMatchObject({ sound: true });
    // What was half made is gone.
    expect((await readdir(join(cwd, "job"))).filter((name) => /adding|lock/.test(name))).toEqual([]);
  },
  60_000 + KILLS * 90_000,
);
