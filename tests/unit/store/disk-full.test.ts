// A disk that becomes full at any step of the work on a job: an error, and the job as it was.
import { cp, readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { addAttempt } from "../../../src/store/add-attempt.js";
import { appendSaid } from "../../../src/store/append-said.js";
import { checkJob } from "../../../src/store/check-job.js";
import { createJob } from "../../../src/store/create-job.js";
import { openJob } from "../../../src/store/open-job.js";
import { packJob } from "../../../src/store/pack-job.js";
import { unpackJob } from "../../../src/store/unpack-job.js";
import { type Bench, CLOCK, DEVICE, makeBench } from "./bench.js";
import { fullFrom } from "./refusing-storage.js";

let bench: Bench;
beforeAll(async () => {
  bench = await makeBench();
  await createJob(bench.job, { ...DEVICE, boards: [bench.file("board.json")] }, CLOCK);
  await appendSaid(bench.job, [{ type: "remark", text: "stood in the rain" }], CLOCK);
});
afterAll(() => bench.remove());

const READING = {
  type: "reading",
  reading: { net: "VSYS", measure: "diode", value: 0.22, overRange: false, raw: "0.22" },
} as const;

/** Do something with a disk that is full from each step on in turn, until it goes well. */
async function atEachStep(
  name: string,
  work: (folder: string, storage: ReturnType<typeof fullFrom>["storage"]) => Promise<unknown>,
): Promise<number> {
  const journal = await readFile(join(bench.job, "journal.jsonl"));
  for (let from = 1; ; from++) {
    const folder = bench.file(`${name}-${from}`);
    await cp(bench.job, folder, { recursive: true });
    const { storage, steps } = fullFrom(from);
    const error = await work(folder, storage).then(
      () => null,
      (caught: Error) => caught,
    );
    if (error === null) {
      expect(steps()).toBe(from - 1);
      return steps();
    }
    expect(error.message).toMatch(/^E_JOB_WRITE: .*the disk is full/);
    expect(await readFile(join(folder, "journal.jsonl"))).toEqual(journal);
    const left = (await readdir(folder, { recursive: true })).filter((path) => /adding|lock/.test(path));
    expect(left).toEqual([]);
    const check = await checkJob(folder, { ...CLOCK, recompute: false });
    expect(check).toMatchObject({ sound: true, attempts: [] });
    expect(check.problems.filter(({ code }) => code !== "N_JOB_STRAY")).toEqual([]);
    // And with room again, it goes on.
    await appendSaid(folder, [READING], CLOCK);
    expect((await openJob(folder, CLOCK)).readings).toHaveLength(1);
  }
}

describe("a full disk", () => {
  it("at any step of a reading leaves the job as it was", async () => {
    const steps = await atEachStep("reading", (folder, storage) =>
      appendSaid(folder, [READING, READING], { ...CLOCK, storage }),
    );
    // The lock's file, its name, and the line.
    expect(steps).toBe(3);
  });

  it("at any step of an attempt leaves the job as it was", async () => {
    const steps = await atEachStep("attempt", (folder, storage) =>
      addAttempt(folder, bench.frames, { ...CLOCK, storage }),
    );
    expect(steps).toBeGreaterThan(15);
  });

  it("at any step of a pack leaves no zip", async () => {
    await addAttempt(bench.job, bench.frames, CLOCK);
    for (let from = 1; ; from++) {
      const zip = join(bench.folder, `pack-${from}`, "job.zip");
      await cp(bench.file("view.json"), join(bench.folder, `pack-${from}`, "other"));
      const { storage } = fullFrom(from);
      const error = await packJob(bench.job, zip, { ...CLOCK, storage }).then(
        () => null,
        (caught: Error) => caught,
      );
      const names = await readdir(join(bench.folder, `pack-${from}`));
      if (error === null) {
        expect(names.sort()).toEqual(["job.zip", "other"]);
        expect(from).toBeGreaterThan(1);
        break;
      }
      expect(error.message).toMatch(/^E_JOB_WRITE: .*the disk is full/);
      expect(names).toEqual(["other"]);
    }
  });

  it("at any step of opening a pack leaves no job", async () => {
    const zip = bench.file("whole.zip");
    await packJob(bench.job, zip, CLOCK);
    for (let from = 1; ; from++) {
      const folder = join(bench.folder, `unpack-${from}`, "job");
      const { storage } = fullFrom(from);
      const error = await unpackJob(zip, folder, { ...CLOCK, storage }).then(
        () => null,
        (caught: Error) => caught,
      );
      if (error === null) {
        expect(from).toBeGreaterThan(1);
        break;
      }
      expect(error.message).toMatch(/^E_JOB_WRITE: .*the disk is full/);
      expect(await readdir(join(bench.folder, `unpack-${from}`)).catch(() => [])).toEqual([]);
    }
  });

  it("at any step of a new job leaves none, and a second try makes one", async () => {
    for (let from = 1; ; from++) {
      const folder = bench.file(`new-${from}`);
      const request = { ...DEVICE, boards: [bench.file("board.json")] };
      const { storage } = fullFrom(from);
      const error = await createJob(folder, request, { ...CLOCK, storage }).then(
        () => null,
        (caught: Error) => caught,
      );
      if (error === null) {
        expect(from).toBeGreaterThan(1);
        break;
      }
      expect(error.message).toMatch(/^E_JOB_WRITE: .*the disk is full/);
      await expect(openJob(folder, CLOCK)).rejects.toThrow(/^E_JOB_NONE/);
      expect((await createJob(folder, request, CLOCK)).boards).toHaveLength(1);
    }
  });
});
