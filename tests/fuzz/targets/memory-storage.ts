// fuzz: nothing → a disk in memory, so that unpacking costs no disk and shows every name that is written.
import { dirname } from "node:path";
import type { Storage } from "../../../src/store/storage.js";

/** A disk in memory, and a look into it. */
export function memoryStorage(): {
  readonly storage: Storage;
  readonly names: () => string[];
  readonly read: (name: string) => Uint8Array;
} {
  const files = new Map<string, Uint8Array>();
  const folders = new Set<string>(["/"]);
  const fail = (code: string): never => {
    throw Object.assign(new Error(code), { code });
  };
  const read = (path: string): Uint8Array => files.get(path) ?? fail(folders.has(path) ? "EISDIR" : "ENOENT");
  const below = (folder: string): string => (folder.endsWith("/") ? folder : `${folder}/`);
  const rename = async (from: string, to: string): Promise<void> => {
    for (const [name, bytes] of [...files]) {
      if (name !== from && !name.startsWith(below(from))) continue;
      files.delete(name);
      files.set(to + name.slice(from.length), bytes);
    }
    for (const name of [...folders]) {
      if (name !== from && !name.startsWith(below(from))) continue;
      folders.delete(name);
      folders.add(to + name.slice(from.length));
    }
  };
  const storage: Storage = {
    read: async (path) => read(path),
    create: async (path, bytes) => {
      if (files.has(path) || folders.has(path)) fail("EEXIST");
      if (!folders.has(dirname(path))) fail("ENOENT");
      files.set(path, Uint8Array.from(bytes));
    },
    append: async (path, bytes) =>
      void files.set(path, Buffer.concat([files.get(path) ?? new Uint8Array(), bytes])),
    truncate: async (path, length) => void files.set(path, read(path).slice(0, length)),
    rename,
    renameAll: async (moves) => {
      for (const [from, to] of moves) await rename(from, to);
    },
    link: async (from, to) => {
      if (files.has(to)) fail("EEXIST");
      files.set(to, read(from));
    },
    makeFolder: async (path) => {
      for (let at = path; at !== "/"; at = dirname(at)) folders.add(at);
    },
    list: async (folder) => {
      if (!folders.has(folder)) fail(files.has(folder) ? "ENOTDIR" : "ENOENT");
      const inside = (path: string): boolean => dirname(path) === folder && path !== "/";
      const nameOf = (path: string): string => path.slice(below(folder).length);
      return [
        ...[...files.keys()].filter(inside).map((path) => ({ name: nameOf(path), kind: "file" as const })),
        ...[...folders].filter(inside).map((path) => ({ name: nameOf(path), kind: "folder" as const })),
      ].sort((a, b) => (a.name < b.name ? -1 : 1));
    },
    remove: async (path) => {
      for (const name of [...files.keys()])
        if (name === path || name.startsWith(below(path))) files.delete(name);
      for (const name of [...folders])
        if (name === path || name.startsWith(below(path))) folders.delete(name);
    },
  };
  return { storage, names: () => [...files.keys()].sort(), read };
}
