// Only one process at a time writes to a job; the lock of a dead one is taken away.
import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtemp, readdir, rm, writeFile } from "node:fs/promises";
import { hostname, tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { lockJob } from "../../../src/store/lock-job.js";
import { isGone, type Owner, thisProcess } from "../../../src/store/process-owner.js";
import { sweepStages, withStage } from "../../../src/store/stage.js";
import { DISK } from "../../../src/store/storage.js";

const OPTIONS = { storage: DISK, now: () => new Date(0), waitS: 5 };
let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "faultglow-lock-"));
});
afterEach(() => rm(folder, { recursive: true }));

/** An owner that ran and is dead by now. */
async function deadOwner(): Promise<Owner> {
  const child = spawn(process.execPath, ["-e", ""]);
  await once(child, "exit");
  return { ...thisProcess("2031-03-01T09:00:00Z"), pid: child.pid! };
}

async function writeLock(owner: object): Promise<void> {
  await writeFile(join(folder, "lock"), JSON.stringify(owner));
}

describe("lockJob", () => {
  it("does one thing after the other, whoever comes at once", async () => {
    const seen: string[] = [];
    const work = (name: string) => async () => {
      seen.push(`${name} in`);
      await sleep(15);
      seen.push(`${name} out`);
    };
    await Promise.all(["a", "b", "c"].map((name) => lockJob(folder, OPTIONS, work(name))));
    for (let i = 0; i < 6; i += 2) expect(seen[i + 1]).toBe(seen[i]!.replace("in", "out"));
    expect(await readdir(folder)).toEqual([]);
  });

  it("gives the lock back when the work fails", async () => {
    const failing = lockJob(folder, OPTIONS, () => Promise.reject(new Error("no")));
    await expect(failing).rejects.toThrow("no");
    expect(await readdir(folder)).toEqual([]);
  });

  it("is refused with a word on who it is, while a process lives or nothing is known of it", async () => {
    const own = thisProcess("2031-03-01T09:00:00Z");
    const abroad = { ...(await deadOwner()), host: "a-host-elsewhere" };
    for (const owner of [own, abroad]) {
      await writeLock(owner);
      const refused = lockJob(folder, { ...OPTIONS, waitS: 0.1 }, async () => "done");
      await expect(refused).rejects.toThrow(
        new RegExp(`^E_JOB_LOCKED: process ${owner.pid} on ${owner.host}, since 2031-03-01T09:00:00Z`),
      );
    }
  });

  it("takes away the lock of a process that died, whoever sees it first", async () => {
    for (let i = 0; i < 10; i++) {
      await writeLock(await deadOwner());
      let inside = 0;
      let most = 0;
      const work = async () => {
        most = Math.max(most, ++inside);
        await sleep(3);
        inside--;
      };
      await Promise.all([1, 2, 3, 4].map(() => lockJob(folder, OPTIONS, work)));
      expect(most).toBe(1);
      expect(await readdir(folder)).toEqual([]);
    }
  });

  it("works on disks that know no second names", async () => {
    const link = () => Promise.reject(Object.assign(new Error("EPERM"), { code: "EPERM" }));
    const storage = { ...DISK, link };
    expect(await lockJob(folder, { ...OPTIONS, storage }, async () => readdir(folder))).toEqual(["lock"]);
    await writeLock(thisProcess(""));
    const refused = lockJob(folder, { ...OPTIONS, storage, waitS: 0.1 }, async () => "done");
    await expect(refused).rejects.toThrow(/^E_JOB_LOCKED/);
  });
});

describe("isGone", () => {
  it("tells the living from the dead, and a process from a later one of its number", async () => {
    const own = thisProcess("");
    expect(isGone(own)).toBe(false);
    expect(isGone(await deadOwner())).toBe(true);
    expect(isGone({ ...(await deadOwner()), host: `${hostname()}-not` })).toBe(false);
    if (own.processStart !== null) expect(isGone({ ...own, processStart: "another boot 17" })).toBe(true);
  });
});

describe("sweepStages", () => {
  it("removes what dead processes left half made, and nothing of the living", async () => {
    const dead = await deadOwner();
    const left = join(folder, `.adding-${dead.pid}.${dead.id}`);
    await DISK.makeFolder(left);
    await DISK.create(join(left, "owner.json"), new TextEncoder().encode(JSON.stringify(dead)));
    // One died before it had said who it is.
    await DISK.makeFolder(join(folder, `.adding-${dead.pid}.${thisProcess("").id}`));
    await writeFile(join(folder, `lock.${dead.pid}.${dead.id}`), '{"kind":"fau');
    await writeFile(join(folder, "lockable.txt"), "mine");
    await withStage(folder, OPTIONS, async (stage) => {
      await sweepStages(folder, DISK);
      const names = await readdir(folder);
      expect(names.map((name) => join(folder, name)).sort()).toEqual([stage, join(folder, "lockable.txt")]);
    });
    expect(await readdir(folder)).toEqual(["lockable.txt"]);
  });
});
