// report: a path → the folder, with those above it.
import { mkdir, stat } from "node:fs/promises";
import { dirname, resolve } from "node:path";

/** Make a folder and those above it; nothing if it is there.
 *  Node's own way never ends where a folder above can't be made for a reason that the system words as "there is none",
 *  as under /proc; this one says what the system says.
 *  @returns the uppermost folder that was made; undefined if it was there.
 *  @throws the system's error, unchanged. */
export async function makeFolders(path: string): Promise<string | undefined> {
  const folder = resolve(path);
  try {
    await mkdir(folder);
    return folder;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    const above = dirname(folder);
    if (code !== "ENOENT" || above === folder) {
      // Some systems refuse the root of a drive, or a folder that may be read only, by another word than EEXIST.
      if (await isFolder(folder)) return undefined;
      throw error;
    }
    const first = await makeFolders(above);
    // A folder above that is there, and still there is no place in it: it is the system that will not have it.
    if (first === undefined) return makeOne(folder);
    await makeOne(folder);
    return first;
  }
}

async function makeOne(folder: string): Promise<string | undefined> {
  try {
    await mkdir(folder);
    return folder;
  } catch (error) {
    // Another process was faster.
    if ((error as NodeJS.ErrnoException).code === "EEXIST" && (await isFolder(folder))) return undefined;
    throw error;
  }
}

async function isFolder(path: string): Promise<boolean> {
  return stat(path).then(
    (found) => found.isDirectory(),
    () => false,
  );
}
