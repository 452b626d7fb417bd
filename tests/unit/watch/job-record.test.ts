import { mkdir, mkdtemp, readdir, readFile, rm, stat, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { ToolError } from "../../../src/core/errors.js";
import { addAttempt } from "../../../src/store/add-attempt.js";
import { appendSaid } from "../../../src/store/append-said.js";
import { createJob } from "../../../src/store/create-job.js";
import { sha256Of } from "../../../src/store/job-paths.js";
import { DISK, type Storage } from "../../../src/store/storage.js";
import { claimWatch } from "../../../src/watch/claim-watch.js";
import { readRecord, setFileAside } from "../../../src/watch/job-record.js";
import { readWatched } from "../../../src/watch/read-watched.js";
import { makeFrame, writeCsv } from "../../cli/make-frames.js";

let folder: string;
let job: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "faultglow-watch-"));
  job = join(folder, "job");
  await createJob(job, { device: "soil meter", boards: [] });
});
afterEach(() => rm(folder, { recursive: true }));

const fault = new ToolError("E_TEXT_MATRIX", { problem: "it is (SHA-256 no) table", fix: "Mend it" });

describe("readRecord", () => {
  it("knows the frames of attempts by their role, those of withdrawn ones too", async () => {
    const [off, on] = [join(folder, "off.csv"), join(folder, "on.csv")];
    await writeCsv(off, makeFrame(1, 0));
    await writeCsv(on, makeFrame(2, 2));
    const added = await addAttempt(job, { baseline: [off], powered: [on] });
    const roles = [
      [sha256Of(await readFile(off)), "baseline"],
      [sha256Of(await readFile(on)), "powered"],
    ];
    expect([...(await readRecord(job)).roles].sort()).toEqual([...roles].sort());
    await appendSaid(job, [{ type: "withdrawal", seq: added.attempt.seq, reason: "wrong board" }]);
    expect([...(await readRecord(job)).roles].sort()).toEqual([...roles].sort());
    const { createdAt } = JSON.parse(await readFile(join(job, "job.json"), "utf8"));
    expect((await readRecord(job)).createdMs).toBe(Date.parse(createdAt));
  });

  it("knows what was set aside, and nothing that only looks like it", async () => {
    const path = join(folder, "bad (SHA-256 x).CSV");
    await writeFile(path, "no table");
    const sha256 = sha256Of("no table");
    const file = { path, name: "sub/bad (SHA-256 x).CSV", bytes: 8, mtimeMs: 5 };
    await setFileAside(job, file, sha256, fault);
    await appendSaid(job, [{ type: "remark", text: `I saw a file (SHA-256 ${"0".repeat(64)}): strange` }]);
    expect([...(await readRecord(job)).setAside]).toEqual([sha256]);
    expect(await readdir(join(job, "aside/frames"))).toEqual([`${sha256}.csv`]);
    expect(await readFile(path, "utf8")).toBe("no table");
  });

  it("makes half a copy of a killed run whole", async () => {
    const path = join(folder, "bad.csv");
    await writeFile(path, "no table");
    const sha256 = sha256Of("no table");
    await setFileAside(job, { path, name: "bad.csv", bytes: 8, mtimeMs: 5 }, sha256, fault);
    await writeFile(join(job, "aside/frames", `${sha256}.csv`), "no t");
    await setFileAside(job, { path, name: "bad.csv", bytes: 8, mtimeMs: 5 }, sha256, fault);
    expect(await readFile(join(job, "aside/frames", `${sha256}.csv`), "utf8")).toBe("no table");
  });

  it("says when the disk refuses a copy", async () => {
    const gone = { path: join(folder, "gone.csv"), name: "gone.csv", bytes: 8, mtimeMs: 5 };
    await expect(setFileAside(job, gone, "0".repeat(64), fault)).rejects.toThrow(/^E_JOB_WRITE/);
  });
});

describe("claimWatch", () => {
  it("is given to one at a time, and again when it was given back", async () => {
    const release = await claimWatch(job);
    await expect(claimWatch(job)).rejects.toThrow(/^E_WATCH_TWICE: process \d+/);
    await release();
    await (await claimWatch(job))();
    expect(await readdir(job)).not.toContain("lock.watch");
  });

  it("is taken from a process that has died, and from half a claim", async () => {
    await claimWatch(job);
    const claim = JSON.parse(await readFile(join(job, "lock.watch"), "utf8"));
    // Numbers of processes end far below this one.
    await writeFile(join(job, "lock.watch"), JSON.stringify({ ...claim, pid: 2 ** 30 }));
    await claimWatch(job);
    await writeFile(join(job, "lock.watch"), "{");
    await claimWatch(job);
    expect(JSON.parse(await readFile(join(job, "lock.watch"), "utf8")).pid).toBe(process.pid);
  });
});

describe("claimWatch after a watch that was killed", () => {
  it("removes what that one left half made, though it may have nothing to add", async () => {
    const stage = join(job, `.adding-${2 ** 30}.3a06b0a9-7b6a-45ae-9854-61751329f109`);
    await mkdir(stage);
    const release = await claimWatch(job);
    await expect(stat(stage)).rejects.toThrow(/ENOENT/);
    await release();
  });
});

describe("claimWatch by two at once", () => {
  it("is given to one of them, also where both saw a dead claim", async () => {
    await claimWatch(job);
    const claim = JSON.parse(await readFile(join(job, "lock.watch"), "utf8"));
    await writeFile(join(job, "lock.watch"), JSON.stringify({ ...claim, pid: 2 ** 30 }));
    // The first one rests between looking and taking, for longer than the second one needs for all of it.
    const slow: Storage = {
      ...DISK,
      read: async (path) => {
        const bytes = await DISK.read(path);
        if (path.endsWith("lock.watch")) await new Promise((resolve) => setTimeout(resolve, 400));
        return bytes;
      },
    };
    const both = await Promise.allSettled([claimWatch(job, { storage: slow }), claimWatch(job)]);
    expect(both.map(({ status }) => status).sort()).toEqual(["fulfilled", "rejected"]);
    expect(both.find(({ status }) => status === "rejected")).toMatchObject({
      reason: { code: "E_WATCH_TWICE" },
    });
  });
});

describe("readWatched", () => {
  it("tells the size of frames, or what is wrong and of which bytes", async () => {
    const good = join(folder, "frame [1].csv");
    await writeCsv(good, makeFrame(1, 0, 20, 12));
    expect(await readWatched(good, {})).toEqual({
      sha256: sha256Of(await readFile(good)),
      width: 20,
      height: 12,
    });
    const bad = join(folder, "bad.csv");
    await writeFile(bad, "no table");
    expect(await readWatched(bad, {})).toMatchObject({
      sha256: sha256Of("no table"),
      fault: { code: "E_TEXT_MATRIX" },
    });
    expect(await readWatched(join(folder, "gone.csv"), {})).toMatchObject({
      sha256: null,
      fault: { code: "E_FRAME_READ" },
    });
  });
});
