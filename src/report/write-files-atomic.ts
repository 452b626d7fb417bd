// report: paths and their contents → files that are either all the old ones or all the whole new ones.
import { randomUUID } from "node:crypto";
import { open, rename, rm } from "node:fs/promises";
import { basename, dirname, join } from "node:path";

/** What a file is to hold: text, bytes, or text in pieces. */
export type Contents = string | Uint8Array | Iterable<string>;

/** Write files that belong together, so that a full disk leaves no new one beside an old one: each is written beside
 *  its place and flushed; only when all are on the disk are they renamed, in the order given, so that whoever waits for
 *  the last finds the others complete. The names of the temporary files are random, so two runs don't meet; they are
 *  removed if writing fails. A plug that is pulled between two of the renames can still leave the files of two runs: a
 *  disk renames one at a time.
 *  @throws the system's error (ENOSPC, EACCES, EROFS, …) unchanged.
 */
export async function writeFilesAtomic(
  files: readonly (readonly [path: string, contents: Contents])[],
): Promise<void> {
  const staged = files.map(([path, contents]) => ({
    path,
    contents,
    temporary: join(dirname(path), `.${basename(path)}.${randomUUID()}.tmp`),
  }));
  try {
    // Together: a disk flushes many files in hardly more time than one.
    for (const written of await Promise.allSettled(staged.map(writeFlushed)))
      if (written.status === "rejected") throw written.reason;
    for (const { temporary, path } of staged) await rename(temporary, path);
  } catch (error) {
    for (const { temporary } of staged) await rm(temporary, { force: true });
    throw error;
  }
}

async function writeFlushed({
  temporary,
  contents,
}: {
  readonly temporary: string;
  readonly contents: Contents;
}): Promise<void> {
  const handle = await open(temporary, "wx");
  try {
    const pieces = typeof contents === "string" || contents instanceof Uint8Array ? [contents] : contents;
    // Each goes on where the one before ended.
    for (const piece of pieces) await handle.writeFile(piece);
    await handle.sync();
  } finally {
    await handle.close();
  }
}
