import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, afterEach, expect, it, vi } from "vitest";

const folder = mkdtempSync(join(tmpdir(), "faultglow-medium-"));
const file = join(folder, "frame.csv");
writeFileSync(file, "1,2\n3,4\n");
afterAll(() => rmSync(folder, { recursive: true, force: true }));
afterEach(() => {
  vi.restoreAllMocks();
  vi.resetModules();
});

/** The module as a process finds it, on a medium where the clock moves by so much whenever it is asked. */
async function medium(stepMs: number) {
  let nowMs = 0;
  vi.spyOn(performance, "now").mockImplementation(() => (nowMs += stepMs));
  return import("../../../src/read/quick-medium.js");
}

it.each([
  ["quick", 0.1],
  ["slow", 50],
])("a %s medium gives the same bytes, files and errors", async (_, stepMs) => {
  const { isFile, readBytes } = await medium(stepMs);
  // The slow one is known for it after three.
  for (let k = 0; k < 5; k++) {
    expect((await readBytes(file)).toString()).toBe("1,2\n3,4\n");
    expect(await isFile(file)).toBe(true);
    expect(await isFile(folder)).toBe(false);
    expect(await isFile(join(folder, "other.json"))).toBe(false);
    expect(await isFile(join(file, "inside"))).toBe(false);
    await expect(readBytes(join(folder, "none"))).rejects.toMatchObject({ code: "ENOENT" });
  }
});
