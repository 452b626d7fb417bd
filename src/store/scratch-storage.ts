// store: the disk for what is thrown away again → the same steps, without waiting for the disk.
import { mkdir, writeFile } from "node:fs/promises";
import { DISK, type Storage } from "./storage.js";

/** The disk for files that need not outlive the process that makes them: none of them is flushed. */
export const SCRATCH: Storage = Object.freeze({
  ...DISK,
  create: (path: string, bytes: Uint8Array) => writeFile(path, bytes, { flag: "wx" }),
  makeFolder: async (path: string) => {
    await mkdir(path, { recursive: true });
  },
});
