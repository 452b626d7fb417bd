// kill -9 at random moments of writing, and two processes at once: nothing that was said is lost, nothing is mixed.
// FAULTGLOW_KILLS=200 kills as often as that.
import { spawn } from "node:child_process";
import { mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { checkJob } from "../../src/store/check-job.js";
import { createJob } from "../../src/store/create-job.js";
import { openJob } from "../../src/store/open-job.js";
import { makeFrame, makeRandom, writeCsv } from "./make-frames.js";
import { runCli, VERSION } from "./run-cli.js";

const KILLS = Number(process.env["FAULTGLOW_KILLS"] ?? 25);
/** Kills that one job lives through before another begins. */
const KILLS_A_JOB = 10;
/** Steps on the disk that an attempt takes are about forty, those of a remark ten; of each, one writes lines. So many
 *  hit all of them. */
const MOST_STEPS = { any: 70, append: 4 };
const WORKER = fileURLToPath(new URL("write-until-killed.mjs", import.meta.url));
const CHECK = { toolVersion: VERSION };

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "faultglow-kill-"));
  await writeCsv(join(folder, "off.csv"), makeFrame(11, 0, 40, 30));
  await writeCsv(join(folder, "on.csv"), makeFrame(12, 2.4, 40, 30));
});
afterAll(() => rm(folder, { recursive: true }));

/** Let a process work on a job until it dies.
 *  @param afterMs kill it from outside so long after it began to write; null: it kills itself.
 *  @returns what it said it had done. */
function workUntilKilled(
  job: string,
  kind: keyof typeof MOST_STEPS,
  step: number,
  share: number,
  seed: number,
  afterMs: number | null,
): Promise<string[]> {
  return new Promise((resolve, reject) => {
    const words = [WORKER, job, folder, kind, String(step), String(share), String(seed), VERSION];
    const child = spawn(process.execPath, words, { stdio: ["ignore", "pipe", "pipe"] });
    let out = "";
    let err = "";
    child.stderr.setEncoding("utf8").on("data", (text: string) => (err += text));
    child.stdout.setEncoding("utf8").on("data", (text: string) => {
      if (out === "" && afterMs !== null) setTimeout(() => child.kill("SIGKILL"), afterMs);
      out += text;
    });
    child.on("error", reject);
    child.on("close", (_, signal) => {
      if (signal === "SIGKILL") resolve(out.split("\n").slice(1, -1));
      else reject(new Error(`the worker ended by itself: ${err}`));
    });
  });
}

describe("kill -9", () => {
  it(
    `at ${KILLS} random moments of writing loses nothing that was said before`,
    async () => {
      const random = makeRandom(20310301);
      const seen = { torn: 0, unfinished: 0, attempts: 0 };
      for (let kill = 0; kill < KILLS; kill++) {
        const job = join(folder, `job-${Math.floor(kill / KILLS_A_JOB)}`);
        if (kill % KILLS_A_JOB === 0) await createJob(job, { device: "sluice gauge" }, CHECK);
        const before = wholeLines(await readFile(join(job, "journal.jsonl")));
        // One in three from outside, at any time; the others by themselves, every other one while it writes a line.
        const outside = kill % 3 === 2;
        const kind = kill % 3 === 1 ? "append" : "any";
        const step = outside ? 0 : 1 + Math.floor(random() * MOST_STEPS[kind]);
        // None of the line at all, one time in three: then an attempt lacks its line alone.
        const share = Math.max(0, random() * 1.5 - 0.5);
        const said = await workUntilKilled(job, kind, step, share, kill, outside ? random() * 400 : null);

        const journal = await readFile(join(job, "journal.jsonl"));
        expect(journal.subarray(0, before.length).equals(before)).toBe(true);
        const opened = await openJob(job, CHECK);
        for (const line of said) {
          const [seq, type] = line.split(" ");
          expect(opened.entries[Number(seq) - 1]?.said.type).toBe(type);
        }
        const check = await checkJob(job, { ...CHECK, recompute: false });
        expect(check.sound).toBe(true);
        const codes = check.problems.map(({ code }) => code);
        expect(codes.filter((code) => !EXPECTED.includes(code))).toEqual([]);
        // The one attempt that was being added is the one after those that are there.
        for (const { code, attempt } of check.problems) {
          if (code === "N_JOB_UNFINISHED") expect(attempt).toBe(opened.attempts.length + 1);
        }
        seen.torn += codes.includes("N_JOB_TORN") ? 1 : 0;
        seen.unfinished += codes.includes("N_JOB_UNFINISHED") ? 1 : 0;
        if (kill % KILLS_A_JOB === KILLS_A_JOB - 1 || kill === KILLS - 1) {
          seen.attempts += await finish(job);
        }
      }
      console.info(
        `${KILLS} kills: ${seen.torn} torn lines, ${seen.unfinished} attempts without their line, ` +
          `${seen.attempts} attempts computed again`,
      );
      expect(seen.torn).toBeGreaterThan(0);
      expect(seen.unfinished).toBeGreaterThan(0);
    },
    60_000 + KILLS * 60_000,
  );

  const EXPECTED: readonly string[] = ["N_JOB_TORN", "N_JOB_UNFINISHED", "N_JOB_STRAY"];

  /** After the last kill the job goes on, leaves no half-made thing, and its findings come out the same. */
  async function finish(job: string): Promise<number> {
    expect((await runCli(["job", "remark", job, "power is back"])).status).toBe(0);
    const names = (await readdir(job)).filter((name) => !STAYS.includes(name));
    expect(names).toEqual([]);
    const check = await checkJob(job, CHECK);
    expect(check.attempts.filter(({ findings }) => findings !== "same")).toEqual([]);
    return check.attempts.length;
  }

  const STAYS: readonly string[] = [
    ...["job.json", "journal.jsonl", "boards", "views", "frames", "attempts", "aside"],
  ];
});

describe("two processes on one job", () => {
  it("write one after the other: all that both said is there, in one chain", async () => {
    const job = join(folder, "shared");
    await createJob(job, { device: "sluice gauge" }, CHECK);
    const remarks = (who: string) =>
      Array.from({ length: 4 }, (_, i) => ["job", "remark", job, `${who} ${i}`]);
    const attempt = ["job", "attempt", job, "--baseline", "off.csv", "--powered", "on.csv", "--quiet"];
    const work = async (list: readonly string[][]): Promise<number[]> => {
      const statuses: number[] = [];
      for (const words of list) statuses.push((await runCli(words, { cwd: folder })).status ?? -1);
      return statuses;
    };
    const done = await Promise.all([
      work([...remarks("left"), attempt]),
      work([attempt, ...remarks("right")]),
    ]);
    expect(done.flat()).toEqual(Array(10).fill(0));
    const opened = await openJob(job, CHECK);
    const texts = opened.remarks.map(({ text }) => text);
    expect(texts.filter((text) => text.startsWith("left"))).toEqual(["left 0", "left 1", "left 2", "left 3"]);
    expect(texts.filter((text) => text.startsWith("right"))).toHaveLength(4);
    expect(opened.attempts.map(({ attempt: { number } }) => number)).toEqual([1, 2]);
    expect(await checkJob(job, CHECK)).toMatchObject({ sound: true, problems: [] });
  });
});

function wholeLines(bytes: Buffer): Buffer {
  return bytes.subarray(0, bytes.lastIndexOf(0x0a) + 1);
}
