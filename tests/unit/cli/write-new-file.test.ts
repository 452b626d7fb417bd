// A file that a person names for a result: new, replaced on request, and never in the place of something that is no
// file.
import { execFileSync } from "node:child_process";
import { mkdir, mkdtemp, readdir, readFile, rm, stat } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { writeNewFile } from "../../../src/cli/write-new-file.js";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "faultglow-new-"));
});
afterAll(() => rm(folder, { recursive: true }));

describe("writeNewFile", () => {
  it("writes a new one, and over one that is there only on request", async () => {
    const file = join(folder, "map.json");
    await writeNewFile(file, "first", false);
    await expect(writeNewFile(file, "second", false)).rejects.toThrow(/^E_OUTPUT: the file is there already/);
    expect(await readFile(file, "utf8")).toBe("first");
    await writeNewFile(file, "second", true);
    expect(await readFile(file, "utf8")).toBe("second");
  });

  it("takes the place of no folder", async () => {
    await mkdir(join(folder, "maps"));
    await expect(writeNewFile(join(folder, "maps"), "text", true)).rejects.toThrow(
      /^E_OUTPUT: .*found a folder/,
    );
    expect((await stat(join(folder, "maps"))).isDirectory()).toBe(true);
  });

  // A pipe stands for every device here: to make one of those takes more rights than a test has.
  it.skipIf(process.platform === "win32")("takes the place of no device", async () => {
    const pipe = join(folder, "pipe");
    execFileSync("mkfifo", [pipe]);
    await expect(writeNewFile(pipe, "text", true)).rejects.toThrow(/^E_OUTPUT: .*a device or a pipe/);
    expect((await stat(pipe)).isFIFO()).toBe(true);
  });

  it("says what the disk says, and leaves nothing half written", async () => {
    await expect(writeNewFile(join(folder, "none", "map.json"), "text", false)).rejects.toThrow(
      /^E_OUTPUT: the file can't be written: ENOENT/,
    );
    expect((await readdir(folder)).sort()).toEqual([
      "map.json",
      "maps",
      ...(process.platform === "win32" ? [] : ["pipe"]),
    ]);
  });
});
