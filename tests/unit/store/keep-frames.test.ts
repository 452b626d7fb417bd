import { mkdir, mkdtemp, readFile, rename, rm, stat, utimes, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { fileStamp, openKnownHashes } from "../../../src/read/known-hashes.js";
import { keepFrames } from "../../../src/store/keep-frames.js";
import { DISK, type Storage } from "../../../src/store/storage.js";

let folder: string;
let frame: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "faultglow-keep-"));
  await mkdir(join(folder, "frames"));
  frame = join(folder, "off.csv");
  await writeFile(frame, "21.5,22.5\n23.5,24.5\n");
});
afterEach(() => rm(folder, { recursive: true }));

/** SHA-256 of the file above, by sha256sum (GNU coreutils 9.1). */
const SHA256 = "c62b4cf867bb300b3e7f309335a4e50db91186a21e1e9a1f6d94aa23ee23580c";
const kept = (): string => join(folder, "frames", `${SHA256}.csv`);
const inode = async (path: string): Promise<number> => (await stat(path)).ino;

describe("keepFrames", () => {
  it("copies a person's files: what they do to theirs afterwards leaves the job as it is", async () => {
    const [one] = await keepFrames([frame], ["off.csv"], folder, DISK);
    expect(one).toMatchObject({ sha256: SHA256, ending: ".csv", bytes: 20, name: "off.csv" });
    expect(await inode(kept())).not.toBe(await inode(frame));
    await writeFile(frame, "gone");
    expect(await readFile(kept(), "utf8")).toBe("21.5,22.5\n23.5,24.5\n");
  });

  it("gives the job's own files a second name", async () => {
    await keepFrames([frame], ["off.csv"], folder, DISK, {});
    expect(await inode(kept())).toBe(await inode(frame));
    // Twice the same bytes are one file.
    const again = await keepFrames([frame, frame], ["off.csv", "off-2.csv"], folder, DISK, {});
    expect(again.map(({ sha256 }) => sha256)).toEqual([SHA256, SHA256]);
  });

  it("copies those as well where the disk knows no second names", async () => {
    const storage: Storage = {
      ...DISK,
      link: async () => {
        throw Object.assign(new Error("EPERM: operation not permitted, link"), { code: "EPERM" });
      },
    };
    const hashes = openKnownHashes();
    for (const known of [false, true]) {
      if (known) hashes.note((await fileStamp(frame))!, SHA256);
      await keepFrames([frame], ["off.csv"], folder, storage, { hashes });
      expect(await inode(kept())).not.toBe(await inode(frame));
      expect(await readFile(kept(), "utf8")).toBe("21.5,22.5\n23.5,24.5\n");
      await rm(kept());
    }
  });

  it("does not read what was hashed before, and hashes anew what was written to since", async () => {
    const hashes = openKnownHashes();
    // No hash of these bytes: that it comes back shows where it is from.
    const noted = SHA256.replace(/^c6/, "00");
    hashes.note((await fileStamp(frame))!, noted);
    const keep = async () => (await keepFrames([frame], ["off.csv"], folder, DISK, { hashes }))[0];
    // Another name, and a second one, change nothing.
    await rename(frame, join(folder, "on.csv"));
    frame = join(folder, "on.csv");
    expect(await keep()).toMatchObject({ sha256: noted, bytes: 20 });
    expect(await keep()).toMatchObject({ sha256: noted, bytes: 20 });
    // A person's files are always read.
    expect((await keepFrames([frame], ["off.csv"], folder, DISK))[0]!.sha256).toBe(SHA256);
    await utimes(frame, 1, 1);
    expect(await keep()).toMatchObject({ sha256: SHA256, bytes: 20 });
    await expect(hashes.find(join(folder, "nobody.csv"))).resolves.toBeNull();
    // The oldest is forgotten where there are too many.
    const few = openKnownHashes(1);
    for (const stamp of [(await fileStamp(frame))!, "another"]) few.note(stamp, noted);
    expect(await few.find(frame)).toBeNull();
  });
});
