// Frames that were read once come from the shelf as reading them again would give them, or not at all.
import { mkdtemp, readdir, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { openFrameShelf } from "../../../src/read/frame-shelf.js";
import { type FrameSource, readFrameFile } from "../../../src/read/read-frame-file.js";
import { readFrameSources } from "../../../src/read/read-frames.js";

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "faultglow-shelf-"));
});
afterEach(() => rm(folder, { recursive: true }));

/** A file of 3 × 2 readings in °C, which says so: nothing is left to be noted. */
async function drop(name: string, first: number): Promise<FrameSource> {
  const path = join(folder, name);
  await writeFile(path, `Unit: °C\n${first},21,22\n23,24,25.5\n`);
  return { path, name, beside: null };
}

async function read(source: FrameSource) {
  const file = await readFrameFile(source, {});
  expect(file.notes).toEqual([]);
  return { file, known: { ...source, sha256: file.frames[0]!.sha256! } };
}

/** Frames with the readings themselves, wherever they are. */
const plain = (file: Awaited<ReturnType<typeof readFrameFile>> | null) =>
  file && { ...file, frames: file.frames.map((frame) => ({ ...frame, raster: [...frame.raster.data] })) };

describe.each([
  ["in memory", 1e6],
  ["in a file", 0],
])("a shelf with its frames %s", (_, heldBytes) => {
  it("gives the same frames for the same bytes, under the name by which they are asked for", async () => {
    const shelf = openFrameShelf({ heldBytes, folder });
    const { file, known } = await read(await drop("dropped.csv", 20));
    shelf.put(known, {}, file);
    const again = { ...known, path: "nowhere", name: "kept/0001-dropped.csv" };
    const expected = await readFrameFile({ ...known, name: again.name }, {});
    expect(plain(shelf.find(again, {}))).toEqual(plain(expected));
    // And whoever reads by it need not open the file.
    const { frames } = await readFrameSources([again], { shelf });
    expect([frames[0]!.file, ...frames[0]!.raster.data]).toEqual([again.name, 20, 21, 22, 23, 24, 25.5]);
    shelf.clear();
    expect(shelf.find(again, {})).toBeNull();
  });
});

describe("a shelf", () => {
  it("gives nothing where anything that the reading depends on is other or unknown", async () => {
    const shelf = openFrameShelf({ heldBytes: 0, folder });
    const { file, known } = await read(await drop("a.csv", 20));
    shelf.put(known, {}, file);
    expect(shelf.find(known, {})).not.toBeNull();
    const { sha256, ...unknown } = known;
    expect(shelf.find(unknown, {})).toBeNull();
    expect(shelf.find({ path: known.path, name: known.name, sha256 }, {})).toBeNull();
    expect(shelf.find({ ...known, sha256: "0".repeat(64) }, {})).toBeNull();
    expect(shelf.find({ ...known, name: "a.png" }, {})).toBeNull();
    expect(shelf.find(known, { unit: "K" })).toBeNull();
    expect(shelf.find(known, { decimal: "comma" })).toBeNull();
    expect(shelf.find(known, { scale: { lowC: 0, highC: 50 } })).toBeNull();
    const beside = { from: "a.csv.json", scale: { lowC: 0, highC: 50 } };
    expect(shelf.find({ ...known, beside }, {})).toBeNull();
  });

  it("keeps nothing of which something is to be said by its name", async () => {
    const shelf = openFrameShelf({ heldBytes: 0, folder });
    const path = join(folder, "silent.csv");
    await writeFile(path, "20,21,22\n23,24,25.5\n");
    const source = { path, name: "silent.csv", beside: null };
    const file = await readFrameFile(source, {});
    expect(file.notes.map(({ code }) => code)).toEqual(["N_UNIT_ASSUMED"]);
    shelf.put(source, {}, file);
    expect(shelf.find({ ...source, sha256: file.frames[0]!.sha256! }, {})).toBeNull();
  });

  it("makes room by forgetting what nobody asked for, and leaves what somebody works on", async () => {
    // One frame of 24 bytes fits, two don't.
    const shelf = openFrameShelf({ heldBytes: 0, mostBytes: 40, folder });
    const [first, second, third] = [
      await read(await drop("1.csv", 20)),
      await read(await drop("2.csv", 30)),
      await read(await drop("3.csv", 40)),
    ];
    shelf.put(first.known, {}, first.file);
    shelf.put(second.known, {}, second.file);
    expect(shelf.find(first.known, {})).toBeNull();
    const found = shelf.find(second.known, {})!;
    shelf.put(third.known, {}, third.file);
    expect(shelf.find(third.known, {})).toBeNull();
    expect(found.frames[0]!.raster.data[0]).toBe(30);
  });

  it("does without where its file can't be made, and leaves no name of it on the disk", async () => {
    const { file, known } = await read(await drop("a.csv", 20));
    const nowhere = openFrameShelf({ heldBytes: 0, folder: join(folder, "not-there") });
    nowhere.put(known, {}, file);
    expect(nowhere.find(known, {})).toBeNull();
    const shelf = openFrameShelf({ heldBytes: 0, folder });
    shelf.put(known, {}, file);
    expect(await readdir(folder)).toEqual(["a.csv"]);
  });
});
