// The disk for what is thrown away again does what the disk does; only the flushes are left out.
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { SCRATCH } from "../../../src/store/scratch-storage.js";
import { DISK } from "../../../src/store/storage.js";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "faultglow-scratch-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe.each([
  ["the disk", DISK],
  ["the disk for what is thrown away", SCRATCH],
])("%s", (name, storage) => {
  it("makes folders with those above them, also twice, and files only where none is", async () => {
    const at = join(folder, name, "views");
    await storage.makeFolder(at);
    await storage.makeFolder(at);
    const file = join(at, "one.json");
    await storage.create(file, new TextEncoder().encode("first"));
    await expect(storage.create(file, new TextEncoder().encode("second"))).rejects.toMatchObject({
      code: "EEXIST",
    });
    expect(readFileSync(file, "utf8")).toBe("first");
    await expect(
      storage.create(join(folder, name, "none", "two.json"), new Uint8Array(1)),
    ).rejects.toMatchObject({ code: "ENOENT" });
  });
});
