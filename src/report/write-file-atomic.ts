// report: a path and its contents → a file that is either the old one or the whole new one.
import { writeFilesAtomic } from "./write-files-atomic.js";

/** Write a file so that nobody ever sees half of it: write beside it, flush to the disk, rename over it.
 *  @throws the system's error (ENOSPC, EACCES, EROFS, …) unchanged.
 */
export async function writeFileAtomic(path: string, contents: string | Uint8Array): Promise<void> {
  await writeFilesAtomic([[path, contents]]);
}
