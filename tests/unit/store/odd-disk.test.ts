// A disk that holds what a job never made, or refuses at the worst moment: a word, and the job as it was said.
import { execFileSync } from "node:child_process";
import { cp, readdir, rm, symlink, truncate } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { addAttempt } from "../../../src/store/add-attempt.js";
import { appendSaid } from "../../../src/store/append-said.js";
import { checkJob } from "../../../src/store/check-job.js";
import { findJobs, indexJobs } from "../../../src/store/index-jobs.js";
import { openJob } from "../../../src/store/open-job.js";
import { packJob } from "../../../src/store/pack-job.js";
import { DISK, type Storage } from "../../../src/store/storage.js";
import { type Bench, beginJob, CLOCK, makeBench } from "./bench.js";

let bench: Bench;
let copies = 0;
/** A copy of a job with one attempt, to be spoilt. */
async function copy(): Promise<string> {
  const folder = bench.file(`copy-${++copies}`);
  await cp(bench.job, folder, { recursive: true });
  return folder;
}

beforeAll(async () => {
  bench = await makeBench();
  await beginJob(bench);
  await addAttempt(bench.job, bench.frames, CLOCK);
});
afterAll(() => bench.remove());

const refusal = (code: string): Error => Object.assign(new Error(code), { code, syscall: "test" });

describe.skipIf(process.platform === "win32")("a device or a pipe in a job's folder", () => {
  const spoil = {
    device: (path: string) => symlink("/dev/zero", path),
    pipe: async (path: string) => void execFileSync("mkfifo", [path]),
  };
  it.each<[keyof typeof spoil, string]>([
    ["device", "job.json"],
    ["device", "journal.jsonl"],
    ["pipe", "job.json"],
    ["pipe", "journal.jsonl"],
  ])("is refused: a %s for %s", async (kind, name) => {
    const folder = await copy();
    await rm(join(folder, name));
    await spoil[kind](join(folder, name));
    const words = /^E_JOB_KIND: expected a file of a job, but it is a device or a pipe, not a file/;
    await expect(openJob(folder, CLOCK)).rejects.toThrow(words);
    await expect(appendSaid(folder, [{ type: "remark", text: "x" }], CLOCK)).rejects.toThrow(words);
  });

  it("is told by the check where a frame should be", async () => {
    const folder = await copy();
    const [frame] = await readdir(join(folder, "frames"));
    await rm(join(folder, "frames", frame!));
    await spoil.device(join(folder, "frames", frame!));
    const { sound, problems } = await checkJob(folder, { ...CLOCK, recompute: false });
    expect([sound, problems[0]]).toMatchObject([
      false,
      { code: "E_JOB_HASH", text: expect.stringContaining("it is a device or a pipe") },
    ]);
  });
});

describe("a file of more than two gigabytes in a job's folder", () => {
  it.each(["job.json", "journal.jsonl"])("is refused with a word: %s", async (name) => {
    const folder = await copy();
    // Without contents: it takes no room.
    await truncate(join(folder, name), 3 * 2 ** 30);
    await expect(openJob(folder, CLOCK)).rejects.toThrow(/^E_JOB_KIND: .*larger than 2 GB/);
  });
});

describe("a disk that fails twice", () => {
  it("leaves an attempt that its journal speaks of", async () => {
    const folder = await copy();
    const storage: Storage = {
      ...DISK,
      append: async (path, bytes) => {
        await DISK.append(path, bytes);
        throw refusal("EIO");
      },
      truncate: () => Promise.reject(refusal("EIO")),
    };
    await expect(addAttempt(folder, bench.frames, { ...CLOCK, storage })).rejects.toThrow(/^E_JOB_WRITE: /);
    expect(await checkJob(folder, CLOCK)).toMatchObject({ sound: true, problems: [] });
    expect((await openJob(folder, CLOCK)).attempts).toHaveLength(2);
  });

  it("tells what went well, where only clearing up is refused", async () => {
    const folder = await copy();
    const remove = (path: string): Promise<void> =>
      /\.adding-[^/\\]*$/.test(path) ? Promise.reject(refusal("EBUSY")) : DISK.remove(path);
    const { attempt } = await addAttempt(folder, bench.frames, { ...CLOCK, storage: { ...DISK, remove } });
    expect(attempt.attempt.number).toBe(2);
    expect(await checkJob(folder, CLOCK)).toMatchObject({ sound: true });
  });
});

describe("a folder that can't be looked into", () => {
  /** The disk, but one folder is closed and another one has just gone. */
  const list: Storage["list"] = (folder) => {
    if (folder.endsWith("closed")) return Promise.reject(refusal("EACCES"));
    if (folder.endsWith("gone")) return Promise.reject(refusal("ENOENT"));
    return folder.endsWith("top")
      ? Promise.resolve(["closed", "gone", "job"].map((name) => ({ name, kind: "folder" as const })))
      : DISK.list(folder.endsWith(join("top", "job")) ? bench.job : folder);
  };
  const storage = {
    ...DISK,
    list,
    read: (path: string) => DISK.read(path.replace(bench.file("top/job"), bench.job)),
  };

  it("is named beside the jobs that are there", async () => {
    const { jobs, looked, unreadable } = await indexJobs(bench.file("top"), {}, { ...CLOCK, storage });
    expect([jobs.length, looked, unreadable]).toMatchObject([
      1,
      1,
      [{ folder: bench.file("top/closed"), problem: expect.stringContaining("you have no permission") }],
    ]);
  });

  it("is an error where it is the folder that was given", async () => {
    await expect(findJobs(bench.file("nowhere"))).rejects.toThrow(
      /^E_JOB_WRITE: expected a folder that can be looked into for jobs, but there is no such folder/,
    );
  });
});

describe("a pack that can't be written", () => {
  it.each([
    [
      { fileBytes: 1000 },
      /^E_JOB_PACK: .* in a pack may have 1000 bytes, this job's has more.*Hand over the folder/,
    ],
    [{ bytes: 20_000 }, /^E_JOB_PACK: what is packed may have 20000 bytes/],
    [{ zipBytes: 5000 }, /^E_JOB_PACK: a pack may have 5000 bytes/],
    [{ files: 5 }, /^E_JOB_PACK: a pack holds 5 files/],
  ])("is refused beyond what can be opened again: %j", async (limits, words) => {
    const before = await readdir(bench.folder);
    await expect(packJob(bench.job, bench.file("large.zip"), { ...CLOCK, limits })).rejects.toThrow(words);
    expect(await readdir(bench.folder)).toEqual(before);
  });

  it("is told by its own place, and not by the job's", async () => {
    await expect(packJob(bench.job, join(bench.file("board.json"), "job.zip"), CLOCK)).rejects.toThrow(
      /^E_JOB_WRITE: expected to write the pack, but a part of its path is a file \(.*job\.zip\)/,
    );
  });
});
