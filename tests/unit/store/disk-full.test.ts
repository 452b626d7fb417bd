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

type Storage = ReturnType<typeof fullFrom>["storage"];

/** Do something with a disk that is full from each step on in turn, until it goes well, and look at what each failure
 *  left.
 *  @returns the steps that it took. */
async function untilItGoesWell(
  work: (from: number, storage: Storage) => Promise<unknown>,
  failed: (from: number) => Promise<void>,
): Promise<number> {
  for (let from = 1; ; from++) {
    const { storage, steps } = fullFrom(from);
    const error = await work(from, storage).then(
      () => null,
      (caught: Error) => caught,
    );
    if (error === null) {
      expect(steps()).toBe(from - 1);
      return steps();
    }
    expect(error.message).toMatch(/^E_JOB_WRITE: .*the disk is full/);
    await failed(from);
  }
}

/** … with a copy of the job, which stays as it was. */
async function atEachStep(
  name: string,
  work: (folder: string, storage: Storage) => Promise<unknown>,
): Promise<number> {
  const journal = await readFile(join(bench.job, "journal.jsonl"));
  const copyOf = (from: number): string => bench.file(`${name}-${from}`);
  return untilItGoesWell(
    async (from, storage) => {
      await cp(bench.job, copyOf(from), { recursive: true });
      await work(copyOf(from), storage);
    },
    async (from) => {
      const folder = copyOf(from);
      expect(await readFile(join(folder, "journal.jsonl"))).toEqual(journal);
      const left = (await readdir(folder, { recursive: true })).filter((path) => /adding|lock/.test(path));
      expect(left).toEqual([]);
      const check = await checkJob(folder, { ...CLOCK, recompute: false });
      expect(check).toMatchObject({ sound: true, attempts: [] });
      expect(check.problems.filter(({ code }) => code !== "N_JOB_STRAY")).toEqual([]);
      // And with room again, it goes on.
      await appendSaid(folder, [READING], CLOCK);
      expect((await openJob(folder, CLOCK)).readings).toHaveLength(1);
    },
  );
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
    const folderOf = (from: number): string => join(bench.folder, `pack-${from}`);
    const steps = await untilItGoesWell(
      async (from, storage) => {
        await cp(bench.file("view.json"), join(folderOf(from), "other"));
        await packJob(bench.job, join(folderOf(from), "job.zip"), { ...CLOCK, storage });
      },
      async (from) => expect(await readdir(folderOf(from))).toEqual(["other"]),
    );
    expect(steps).toBeGreaterThan(0);
    expect((await readdir(folderOf(steps + 1))).sort()).toEqual(["job.zip", "other"]);
  });

  it("at any step of opening a pack leaves no job", async () => {
    const zip = bench.file("whole.zip");
    await packJob(bench.job, zip, CLOCK);
    const folderOf = (from: number): string => join(bench.folder, `unpack-${from}`);
    const steps = await untilItGoesWell(
      (from, storage) => unpackJob(zip, join(folderOf(from), "job"), { ...CLOCK, storage }),
      async (from) => expect(await readdir(folderOf(from)).catch(() => [])).toEqual([]),
    );
    expect(steps).toBeGreaterThan(0);
  });

  it("at any step of a new job leaves none, and a second try makes one", async () => {
    const request = { ...DEVICE, boards: [bench.file("board.json")] };
    const folderOf = (from: number): string => bench.file(`new-${from}`);
    const steps = await untilItGoesWell(
      (from, storage) => createJob(folderOf(from), request, { ...CLOCK, storage }),
      async (from) => {
        await expect(openJob(folderOf(from), CLOCK)).rejects.toThrow(/^E_JOB_NONE/);
        expect((await createJob(folderOf(from), request, CLOCK)).boards).toHaveLength(1);
      },
    );
    expect(steps).toBeGreaterThan(0);
  });
});
