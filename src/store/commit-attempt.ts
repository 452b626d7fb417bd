// store: an attempt that is ready beside the job → its files at their places, one line short of being part of the job.
import { randomBytes } from "node:crypto";
import { join } from "node:path";
import { type Attempt, attemptSchema } from "../job/attempt-schema.js";
import { ASIDE, ATTEMPTS, attemptName, pathIn, sha256Of } from "./job-paths.js";
import { stagedFolder } from "./stage-attempt.js";
import type { Storage } from "./storage.js";

/** Move the files of an attempt to their places: first what may be there already under its hash, then its own folder,
 *  whole. Called with the lock held.
 *  @returns hash of attempt.json, for the journal.
 */
export async function commitAttempt(
  folder: string,
  stage: string,
  attempt: Attempt,
  storage: Storage,
): Promise<string> {
  const text = new TextEncoder().encode(`${JSON.stringify(attemptSchema.parse(attempt), null, 2)}\n`);
  await storage.create(join(stagedFolder(stage), "attempt.json"), text);
  for (const kind of ["boards", "views", "frames"]) {
    await storage.makeFolder(join(folder, kind));
    // Over what is there: it is the same by its name, and heals a copy that was damaged.
    const names = (await storage.list(join(stage, kind))).map(({ name }) => name);
    await storage.renameAll(
      names.map((name) => [join(stage, kind, name), join(folder, kind, name)] as const),
    );
  }
  await storage.makeFolder(join(folder, ATTEMPTS));
  await storage.rename(stagedFolder(stage), pathIn(folder, attemptName(attempt.number)));
  return sha256Of(text);
}

/** Take the folder of an attempt back, so that what could not be said is not in the way either. */
export async function uncommitAttempt(
  folder: string,
  stage: string,
  number: number,
  storage: Storage,
): Promise<void> {
  // A disk that refuses this as well leaves what `asideAttempt` finds the next time.
  await storage.rename(pathIn(folder, attemptName(number)), stagedFolder(stage)).catch(() => {});
}

/** Put aside the folder of an attempt that no line speaks of, where the next one is to go. It is kept: it was left by a
 *  crash just before its line was written, or the journal has lost its end.
 */
export async function asideAttempt(folder: string, number: number, storage: Storage): Promise<void> {
  const name = attemptName(number);
  const there = await storage.list(join(folder, ATTEMPTS)).catch((error) => {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return [];
    throw error;
  });
  if (!there.some((entry) => `${ATTEMPTS}/${entry.name}` === name)) return;
  await storage.makeFolder(join(folder, ASIDE));
  const aside = join(
    folder,
    ASIDE,
    `attempt-${String(number).padStart(3, "0")}-${randomBytes(4).toString("hex")}`,
  );
  await storage.rename(pathIn(folder, name), aside);
}
