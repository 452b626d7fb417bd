// watch: a job folder → the right to watch for it, which one process at a time has.
import { ToolError } from "../core/errors.js";
import { momentOf } from "../job/moment-of.js";
import { LOCK_FILE, pathIn } from "../store/job-paths.js";
import { lockJob } from "../store/lock-job.js";
import { isGone, type Owner, parseOwner, thisProcess } from "../store/process-owner.js";
import { sweepStages } from "../store/stage.js";
import { wordErrors } from "../store/store-error.js";
import { STORE_DEFAULTS, type StoreOptions } from "../store/store-options.js";

/** Beside the lock of the job, which is held only while something is written. */
const WATCH_LOCK = `${LOCK_FILE}.watch`;

/** Claim the watch of a job: two watchers would both take the frames that drop in. The claim of a process of this
 *  machine that has died is taken away. Looked at and written under the job's lock: of two that come at once one alone
 *  sees it free, and half a claim is that of a process that died while it wrote.
 *  @returns a function that gives the claim back.
 *  @throws ToolError E_WATCH_TWICE if another process has it, E_JOB_LOCKED, E_JOB_WRITE if the folder can't be written
 *  to. */
export async function claimWatch(
  folder: string,
  options: Partial<StoreOptions> = {},
): Promise<() => Promise<void>> {
  const o = { ...STORE_DEFAULTS, ...options };
  const { storage, now } = o;
  const path = pathIn(folder, WATCH_LOCK);
  const owner = thisProcess(momentOf(now()));
  const readHolder = (): Promise<Owner | null> => storage.read(path).then(parseOwner, () => null);
  await wordErrors(folder, () =>
    lockJob(folder, o, async () => {
      const holder = await readHolder();
      if (holder !== null && !isGone(holder)) throw twiceError(holder, path);
      await storage.remove(path);
      await storage.create(path, new TextEncoder().encode(`${JSON.stringify(owner)}\n`));
      // A watch that was killed just after its last attempt was in its place left the stage behind, and this one may
      // have nothing to add.
      await sweepStages(folder, storage);
    }),
  );
  return async () => {
    if ((await readHolder())?.id === owner.id) await storage.remove(path);
  };
}

function twiceError(holder: Owner, file: string): ToolError {
  return new ToolError("E_WATCH_TWICE", {
    problem: `process ${holder.pid} on ${holder.host.slice(0, 60)} watches a folder for this job already`,
    fix: "End that process first; if it no longer runs, remove the file named here",
    place: { file },
  });
}
