// A plug that is pulled: what is said to be done has reached the disk, and a name is given only to what is whole there.
// No kill of a process shows that, for the system keeps what was written: the flushes themselves are looked at (POSIX,
// fsync: a new file is safe when its bytes and the folder that names it are flushed).
import { existsSync, readdirSync, readFileSync, readlinkSync } from "node:fs";
import { type FileHandle, mkdir, mkdtemp, open, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, relative } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { writeFilesAtomic } from "../../../src/report/write-files-atomic.js";
import { receiveFile } from "../../../src/serve/receive-file.js";
import { receiveMany } from "../../../src/serve/receive-many.js";
import { DISK } from "../../../src/store/storage.js";

let folder: string;
const path = (name: string): string => join(folder, name);
const bytes = (text: string): Uint8Array<ArrayBuffer> => new TextEncoder().encode(text);

/** What was flushed, in order: the path from the folder, and what it held: a text, or the names of a folder. */
let flushed: [name: string, held: string | string[]][];

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "faultglow-flushed-"));
  flushed = [];
  const one = await open(folder);
  const methods = Object.getPrototypeOf(one) as FileHandle;
  await one.close();
  const sync = methods.sync;
  vi.spyOn(methods, "sync").mockImplementation(async function (this: FileHandle) {
    const at = readlinkSync(`/proc/self/fd/${this.fd}`);
    const isFolder = (await this.stat()).isDirectory();
    await sync.call(this);
    flushed.push([relative(folder, at), isFolder ? readdirSync(at).sort() : readFileSync(at, "utf8")]);
  });
});
afterEach(async () => {
  vi.restoreAllMocks();
  await rm(folder, { recursive: true });
});

// Only there a number of an open file tells its name.
describe.skipIf(process.platform !== "linux")("flushed to the disk", () => {
  it("a new file, whole, and then its name", async () => {
    await DISK.create(path("a"), bytes("seven"));
    expect(flushed).toEqual([
      ["a", "seven"],
      ["", ["a"]],
    ]);
  });

  it("what is put behind a file, and what it is cut to", async () => {
    await writeFile(path("a"), "one\n");
    await DISK.append(path("a"), bytes("two\n"));
    await DISK.truncate(path("a"), 4);
    expect(flushed).toEqual([
      ["a", "one\ntwo\n"],
      ["a", "one\n"],
    ]);
  });

  it("names that were moved: first where they are now, then where they were", async () => {
    await mkdir(path("from"));
    await mkdir(path("to"));
    for (const name of ["a", "b"]) await writeFile(path(`from/${name}`), name);
    await DISK.renameAll(["a", "b"].map((name) => [path(`from/${name}`), path(`to/${name}`)] as const));
    expect(flushed).toEqual([
      ["to", ["a", "b"]],
      ["from", []],
    ]);
    flushed = [];
    await DISK.rename(path("to"), path("there"));
    expect(flushed).toEqual([["", ["from", "there"]]]);
  });

  it("each of the folders that were made, by its name in the one above", async () => {
    await DISK.makeFolder(path("a/b/c"));
    expect(flushed).toEqual([
      ["a/b", ["c"]],
      ["a", ["b"]],
      ["", ["a"]],
    ]);
    flushed = [];
    await DISK.makeFolder(path("a/b"));
    expect(flushed).toEqual([]);
  });

  it("files that are written over, all of them whole beside their places before the first is", async () => {
    const names = ["a", "b", "c"];
    for (const name of names) await writeFile(path(name), `old ${name}`);
    const seen: string[][] = [];
    const push = flushed.push.bind(flushed);
    flushed.push = (...all) => {
      seen.push(names.map((name) => readFileSync(path(name), "utf8")));
      return push(...all);
    };
    await writeFilesAtomic(names.map((name) => [path(name), `new ${name}`] as const));
    expect(flushed.map(([, held]) => held).sort()).toEqual(["new a", "new b", "new c"]);
    for (const [name] of flushed) expect(name).toMatch(/^\.[abc]\..*\.tmp$/);
    expect(seen).toEqual(Array(3).fill(["old a", "old b", "old c"]));
    expect(readFileSync(path("c"), "utf8")).toBe("new c");
  });

  it("what was uploaded, one file or many, before it is said to be here", async () => {
    const streamOf = (text: string): ReadableStream<Uint8Array> => new Blob([bytes(text)]).stream();
    await receiveFile(streamOf("20,21"), path("one"), { fileBytes: 100, stallMs: 10_000 });
    expect(flushed).toEqual([["one", "20,21"]]);
    flushed = [];
    const head = JSON.stringify([
      { name: "a.csv", bytes: 2 },
      { name: "b.csv", bytes: 3 },
    ]);
    await mkdir(path("in"));
    const received = await receiveMany(streamOf(`${head}\n2230.`), path("in"), { stallMs: 10_000 });
    expect(flushed.map(([, held]) => held).sort()).toEqual(["22", "30."]);
    expect(received.every((one) => existsSync(one.path))).toBe(true);
  });
});
