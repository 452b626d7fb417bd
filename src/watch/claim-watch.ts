// watch: a job folder → the right to watch for it, which one process at a time has.
import { ToolError } from "../core/errors.js";
import { momentOf } from "../job/moment-of.js";
import { LOCK_FILE, pathIn } from "../store/job-paths.js";
import { isGone, parseOwner, thisProcess } from "../store/process-owner.js";
import { jobWriteError } from "../store/store-error.js";
import { STORE_DEFAULTS, type StoreOptions } from "../store/store-options.js";

/** Beside the lock of the job, which is held only while something is written. */
const WATCH_LOCK = `${LOCK_FILE}.watch`;

/** Claim the watch of a job: two watchers would both take the frames that drop in. The claim of a process of this machine
 *  that has died is taken away.
 *  @returns a function that gives the claim back.
 *  @throws ToolError E_WATCH_TWICE if another process has it, E_JOB_WRITE if the folder can't be written to. */
export async function claimWatch(
  folder: string,
  options: Partial<StoreOptions> = {},
): Promise<() => Promise<void>> {
  const { storage, now } = { ...STORE_DEFAULTS, ...options };
  const path = pathIn(folder, WATCH_LOCK);
  const owner = thisProcess(momentOf(now()));
  for (let tries = 0; ; tries++) {
    try {
      await storage.create(path, new TextEncoder().encode(`${JSON.stringify(owner)}\n`));
      return async () => {
        const held = await storage.read(path).then(parseOwner, () => null);
        if (held?.id === owner.id) await storage.remove(path);
      };
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== "EEXIST") throw jobWriteError(path, error);
    }
    const holder = await storage.read(path).then(parseOwner, () => null);
    // Half a claim is that of a process that died while it wrote, or that writes at this moment: it gets one more look.
    const isDead = holder === null ? tries > 0 : isGone(holder);
    if (isDead && tries < 3) await storage.remove(path);
    else if (holder !== null || tries >= 3) {
      const who =
        holder === null ? "another process" : `process ${holder.pid} on ${holder.host.slice(0, 60)}`;
      throw new ToolError("E_WATCH_TWICE", {
        problem: `${who} watches a folder for this job already`,
        fix: "End that process first; if it no longer runs, remove the file named here",
        place: { file: path },
      });
    } else await new Promise((resolve) => setTimeout(resolve, 200));
  }
}
