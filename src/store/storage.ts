// store: what a job folder asks of a disk → the disk itself, each step flushed before it is done.
import { link, open, readdir, readFile, rename, rm, stat, truncate } from "node:fs/promises";
import { dirname, resolve } from "node:path";
import { makeFolders } from "../report/make-folders.js";

/** A name in a folder. */
export interface StorageEntry {
  readonly name: string;
  readonly kind: "file" | "folder" | "other";
}

/** The disk as a job folder sees it. Every step but `link` has reached the disk when it is done, so that their order
 *  holds also when the plug is pulled. Errors are the system's own, with their `code`. */
export interface Storage {
  /** Read a file. What is neither file nor folder (a device, a pipe, also behind a link) has no end, or never begins:
   *  its error has the code `NOT_PLAIN`, and is worded already. */
  readonly read: (path: string) => Promise<Uint8Array>;
  /** Write a new file; EEXIST if there is one. */
  readonly create: (path: string, bytes: Uint8Array) => Promise<void>;
  readonly append: (path: string, bytes: Uint8Array) => Promise<void>;
  readonly truncate: (path: string, length: number) => Promise<void>;
  /** Move a file, over one that is there, or a folder to where nothing is. */
  readonly rename: (from: string, to: string) => Promise<void>;
  /** Move files, each over one that is there. One may be moved and another not when the plug is pulled meanwhile;
   *  hundreds cost little more than one, since their folders are flushed once. */
  readonly renameAll: (moves: readonly (readonly [from: string, to: string])[]) => Promise<void>;
  /** Give a file a second name; EEXIST if that is taken. The name is not flushed: it is one to be moved on, or of a
   *  lock. */
  readonly link: (from: string, to: string) => Promise<void>;
  /** Make a folder and those above it; nothing if it is there. */
  readonly makeFolder: (path: string) => Promise<void>;
  /** In the order of their names. */
  readonly list: (folder: string) => Promise<StorageEntry[]>;
  /** Remove a file or a folder with all in it; nothing if it is not there. */
  readonly remove: (path: string) => Promise<void>;
}

/** The disk. */
export const DISK: Storage = Object.freeze({
  read: readPlain,
  create: (path: string, bytes: Uint8Array) => writeFlushed(path, "wx", bytes),
  append: (path: string, bytes: Uint8Array) => writeFlushed(path, "a", bytes),
  truncate: async (path: string, length: number) => {
    await truncate(path, length);
    const handle = await open(path, "r+");
    try {
      await handle.sync();
    } finally {
      await handle.close();
    }
  },
  rename: (from: string, to: string) => renameAll([[from, to]]),
  renameAll,
  link: (from: string, to: string) => link(from, to),
  makeFolder: async (path: string) => {
    const first = await makeFolders(path);
    if (first === undefined) return;
    // Each is a name in the one above it.
    for (let made = resolve(path); made.length >= first.length; made = dirname(made))
      await flushFolder(dirname(made));
  },
  list: async (folder: string) => {
    const entries = await readdir(folder, { withFileTypes: true });
    const kindOf = (entry: (typeof entries)[number]): StorageEntry["kind"] => {
      if (entry.isDirectory()) return "folder";
      return entry.isFile() ? "file" : "other";
    };
    return entries
      .map((entry) => ({ name: entry.name, kind: kindOf(entry) }))
      .sort((a, b) => (a.name < b.name ? -1 : 1));
  },
  remove: (path: string) => rm(path, { recursive: true, force: true }),
});

async function readPlain(path: string): Promise<Uint8Array> {
  const found = await stat(path);
  if (found.isFile() || found.isDirectory()) return readFile(path);
  throw Object.assign(new Error("it is a device or a pipe, not a file"), { code: "NOT_PLAIN" });
}

async function renameAll(moves: readonly (readonly [from: string, to: string])[]): Promise<void> {
  for (const [from, to] of moves) await rename(from, to);
  // Where the files are now first: a name that is there twice is no loss.
  const folders = new Set([...moves.map(([, to]) => dirname(to)), ...moves.map(([from]) => dirname(from))]);
  for (const folder of folders) await flushFolder(folder);
}

async function writeFlushed(path: string, flags: "wx" | "a", bytes: Uint8Array): Promise<void> {
  const handle = await open(path, flags);
  try {
    await handle.writeFile(bytes);
    await handle.sync();
  } finally {
    await handle.close();
  }
  if (flags === "wx") await flushFolder(dirname(path));
}

/** Names in a folder are safe only once the folder itself is flushed; systems that can't do that do it by
 *  themselves. */
async function flushFolder(folder: string): Promise<void> {
  let handle: Awaited<ReturnType<typeof open>> | undefined;
  try {
    handle = await open(folder, "r");
    await handle.sync();
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (!["EPERM", "EISDIR", "EINVAL", "EACCES", "ENOTSUP"].includes(code ?? "")) throw error;
  } finally {
    await handle?.close();
  }
}
