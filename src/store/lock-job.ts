// store: a job folder and some work → the work done while no other process writes to the job.
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { ToolError } from "../core/errors.js";
import { momentOf } from "../job/moment-of.js";
import { LOCK_FILE } from "./job-paths.js";
import { isGone, type Owner, parseOwner, thisProcess } from "./process-owner.js";
import type { Storage } from "./storage.js";
import type { StoreOptions } from "./store-options.js";

/** How often a lock is looked at, ms: short against the time that a person notices. */
const LOOK_MS = 40;

/** Do some work while holding the job's lock. Waits for other processes; the lock of one that has died is taken away.
 *  A lock is a file that is given its name only when its contents are whole (a second name, `link`), so that no process
 *  sees half of one.
 *  @throws ToolError E_JOB_LOCKED if another process keeps the lock for longer than `waitS`; what `work` throws.
 */
export async function lockJob<Out>(
  folder: string,
  { storage, now, waitS }: Pick<StoreOptions, "storage" | "now" | "waitS">,
  work: () => Promise<Out>,
): Promise<Out> {
  const lock = join(folder, LOCK_FILE);
  const owner = thisProcess(momentOf(now()));
  const looks = Math.ceil((waitS * 1000) / LOOK_MS);
  for (let look = 0; !(await tryLink(storage, lock, owner)); look++) {
    const holder = await readOwner(storage, lock);
    if (holder !== null && isGone(holder) && (await takeAway(storage, lock, holder, owner))) continue;
    if (look >= looks) throw lockedError(lock, holder, waitS);
    await sleep(LOOK_MS);
  }
  try {
    return await work();
  } finally {
    await storage.remove(lock);
  }
}

/** @returns false if another process has the lock. */
async function tryLink(storage: Storage, lock: string, owner: Owner): Promise<boolean> {
  const ready = `${lock}.${owner.pid}.${owner.id}`;
  const contents = new TextEncoder().encode(`${JSON.stringify(owner)}\n`);
  try {
    await storage.create(ready, contents);
    await storage.link(ready, lock).catch((error) => {
      // Memory cards and some shares know no second names: there the lock is written in place.
      if (!NO_LINKS.includes(codeOf(error))) throw error;
      return storage.create(lock, contents);
    });
    return true;
  } catch (error) {
    if (codeOf(error) === "EEXIST") return false;
    throw error;
  } finally {
    await storage.remove(ready);
  }
}

const NO_LINKS: readonly string[] = ["EPERM", "ENOTSUP", "EOPNOTSUPP", "ENOSYS", "EINVAL"];

function codeOf(error: unknown): string {
  return String((error as NodeJS.ErrnoException).code);
}

/** Take away the lock of a process that has died. Two processes may have seen it: only the one that makes the claim,
 *  whose name is that of the dead lock, may remove it, and only if it is still there.
 *  @returns false if another process is about to do it.
 */
async function takeAway(storage: Storage, lock: string, dead: Owner, owner: Owner): Promise<boolean> {
  const claim = `${lock}.${dead.id}.claim`;
  if (!(await tryLink(storage, claim, owner))) {
    const claimer = await readOwner(storage, claim);
    if (claimer !== null && isGone(claimer)) await storage.remove(claim);
    return false;
  }
  try {
    if ((await readOwner(storage, lock))?.id === dead.id) await storage.remove(lock);
    return true;
  } finally {
    await storage.remove(claim);
  }
}

async function readOwner(storage: Storage, path: string): Promise<Owner | null> {
  try {
    return parseOwner(await storage.read(path));
  } catch (error) {
    if (codeOf(error) === "ENOENT") return null;
    throw error;
  }
}

function lockedError(lock: string, holder: Owner | null, waitS: number): ToolError {
  const who =
    holder === null
      ? "another process"
      : `process ${holder.pid} on ${holder.host}, since ${holder.since.slice(0, 40)}`;
  return new ToolError("E_JOB_LOCKED", {
    problem: `${who} writes to this job; waited ${waitS} s for it`,
    fix: "Do it again when that process is done; if no process works on the job any more, remove the file named here",
    place: { file: lock },
  });
}
