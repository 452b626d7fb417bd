// store: a job folder and names → folders inside it, one below the other.
import { mkdir } from "node:fs/promises";
import { join } from "node:path";

/** Make folders inside a job's folder; nothing where they are there. The job's own folder has to be there: on a drive
 *  that was taken out, a new one would stand where the drive comes back, and take what belongs to the job.
 *  @returns the innermost folder. @throws the system's error, ENOENT if the job's folder is gone. */
export async function makeInJob(folder: string, ...names: readonly string[]): Promise<string> {
  let path = folder;
  for (const name of names) {
    path = join(path, name);
    await mkdir(path).catch((error: NodeJS.ErrnoException) => {
      if (error.code !== "EEXIST") throw error;
    });
  }
  return path;
}
