// report: a path and its contents → a file that is either the old one or the whole new one.
import { randomUUID } from "node:crypto";
import { open, rename, rm } from "node:fs/promises";
import { basename, dirname, join } from "node:path";

/** Write a file so that nobody ever sees half of it: write beside it, flush to the disk, rename over it.
 *  The name of the temporary file is random, so two runs don't meet; it is removed if writing fails.
 *  @throws the system's error (ENOSPC, EACCES, EROFS, …) unchanged.
 */
export async function writeFileAtomic(path: string, contents: string | Uint8Array): Promise<void> {
  const temporary = join(dirname(path), `.${basename(path)}.${randomUUID()}.tmp`);
  try {
    const handle = await open(temporary, "wx");
    try {
      await handle.writeFile(contents);
      await handle.sync();
    } finally {
      await handle.close();
    }
    await rename(temporary, path);
  } catch (error) {
    await rm(temporary, { force: true });
    throw error;
  }
}
