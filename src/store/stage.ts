// store: a job folder → a folder in it where something is made ready, out of everybody's way until it is whole.
import { join } from "node:path";
import { momentOf } from "../job/moment-of.js";
import { LOCK_FILE, STAGE } from "./job-paths.js";
import { isGone, isRunning, parseOwner, thisProcess } from "./process-owner.js";
import type { Storage } from "./storage.js";
import type { StoreOptions } from "./store-options.js";

const OWNER_FILE = "owner.json";

/** Make a folder ready to work in, use it, and remove it. What is to stay is renamed out of it.
 *  @param parent folder on the same disk, usually the job's.
 */
export async function withStage<Out>(
  parent: string,
  { storage, now }: Pick<StoreOptions, "storage" | "now">,
  work: (stage: string) => Promise<Out>,
): Promise<Out> {
  const owner = thisProcess(momentOf(now()));
  const stage = join(parent, `${STAGE}${owner.pid}.${owner.id}`);
  try {
    await storage.makeFolder(stage);
    await storage.create(join(stage, OWNER_FILE), new TextEncoder().encode(`${JSON.stringify(owner)}\n`));
    return await work(stage);
  } finally {
    // What was done is done, and what went wrong is the error to tell, also where the disk refuses to clear up: the
    // folder is swept away once this process has ended.
    await storage.remove(stage).catch(() => {});
  }
}

/** Remove what processes that have died left half made. Called with the lock held. */
export async function sweepStages(folder: string, storage: Storage): Promise<void> {
  for (const { name } of await storage.list(folder)) {
    const path = join(folder, name);
    const file = name.startsWith(STAGE) ? join(path, OWNER_FILE) : path;
    if (file === path && !name.startsWith(`${LOCK_FILE}.`)) continue;
    if (await makerIsGone(file, name, storage)) await storage.remove(path);
  }
}

/** True if whoever made it is known to be gone. Its own file says who that was, and its name does so too, since the
 *  file may have been cut short. */
async function makerIsGone(file: string, name: string, storage: Storage): Promise<boolean> {
  const owner = await storage.read(file).then(parseOwner, () => null);
  if (owner !== null) return isGone(owner);
  const pid = /(\d+)\.[0-9a-f-]{36}$/.exec(name)?.[1];
  return pid !== undefined && !isRunning(Number(pid));
}
