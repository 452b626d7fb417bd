// A disk that is full from some step on, for the tests of the job folder.
import { DISK, type Storage } from "../../../src/store/storage.js";

/** The disk, but from the `from`-th step on that needs room it says ENOSPC, after writing the first part of what it was
 *  given. Renaming, cutting and removing need no room.
 *  @returns the storage, and how many such steps there were.
 */
export function fullFrom(from: number): { storage: Storage; steps: () => number } {
  let steps = 0;
  const needsRoom = async (work: () => Promise<void>, part: () => Promise<void>): Promise<void> => {
    if (++steps < from) return work();
    await part();
    throw Object.assign(new Error("ENOSPC: no space left on device, write"), {
      code: "ENOSPC",
      syscall: "write",
    });
  };
  const half = (bytes: Uint8Array): Uint8Array => bytes.subarray(0, Math.floor(bytes.length / 2));
  const storage: Storage = {
    ...DISK,
    create: (path, bytes) =>
      needsRoom(
        () => DISK.create(path, bytes),
        () => DISK.create(path, half(bytes)),
      ),
    append: (path, bytes) =>
      needsRoom(
        () => DISK.append(path, bytes),
        () => DISK.append(path, half(bytes)),
      ),
    makeFolder: (path) =>
      needsRoom(
        () => DISK.makeFolder(path),
        async () => {},
      ),
    link: (from_, to) =>
      needsRoom(
        () => DISK.link(from_, to),
        async () => {},
      ),
  };
  return { storage, steps: () => steps };
}
