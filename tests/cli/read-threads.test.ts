// What threads read is what one reads alone. They are built files, so this is tested on the build.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import type { FileOptions } from "../../src/read/read-frame-file.js";
import { buildPng } from "../unit/read/build-png.js";

// Names that the compiler does not follow: the build need not be there when types are checked.
const DIST = "../../dist/read";
const { openReadThreads } = (await import(
  `${DIST}/read-threads.js`
)) as typeof import("../../src/read/read-threads.js");
const { readFrameFile } = (await import(
  `${DIST}/read-frame-file.js`
)) as typeof import("../../src/read/read-frame-file.js");

const folder = mkdtempSync(join(tmpdir(), "faultglow-threads-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function write(name: string, content: string | Uint8Array) {
  const path = join(folder, name);
  writeFileSync(path, content);
  return { path, name };
}

/** A matrix of 5×4 in °C, every number another one. */
function matrix(k: number): string {
  return [0, 1, 2, 3]
    .map((y) => [0, 1, 2, 3, 4].map((x) => (20 + k + y + x / 8).toFixed(3)).join(","))
    .join("\n");
}

async function outcome(
  read: typeof readFrameFile,
  source: { path: string; name: string },
  options: FileOptions,
) {
  try {
    return await read(source, options);
  } catch (error) {
    const { name, message, code, parts } = error as Error & { code: unknown; parts: unknown };
    return { name, message, code, parts };
  }
}

describe("threads that read frames", () => {
  it("give the frames, scales, notes and errors that reading alone gives", async () => {
    const grey = buildPng({ width: 5, depth: 8, colourType: 0 }, [
      [0, 50, 100, 150, 200],
      [255, 255, 7, 8, 9],
    ]);
    const sources = [
      ...Array.from({ length: 12 }, (_, k) => write(`${k}.csv`, matrix(k))),
      write("grey.png", grey),
      write("two.csv", `${matrix(1)}\n\n${matrix(2)}\n`),
      write("torn.csv", "20.1,20.2\n20.3"),
      write("torn.png", grey.subarray(0, grey.length - 20)),
      write("hot.csv", "20,2000\n20,20\n"),
      { path: join(folder, "none.csv"), name: "none.csv" },
    ];
    const options = { scale: { lowC: 10, highC: 60 } };
    const threads = openReadThreads(1, 2);
    try {
      expect(threads.lanes.length).toBeGreaterThan(1);
      const apart = await Promise.all(
        sources.map((source, k) => outcome(threads.lanes[k % threads.lanes.length]!, source, options)),
      );
      const alone = await Promise.all(sources.map((source) => outcome(readFrameFile, source, options)));
      expect(apart).toEqual(alone);
      expect(alone.flatMap((one) => ("code" in one ? [one.code] : []))).toEqual([
        "E_TEXT_RAGGED",
        "E_PNG_CORRUPT",
        "E_FRAME_RANGE",
        "E_FRAME_READ",
      ]);
      expect(apart.filter((one) => "frames" in one)).toHaveLength(14);
    } finally {
      await threads.close();
    }
  });

  it("what a thread was to read when it ended is read all the same", async () => {
    const threads = openReadThreads(1, 1);
    const source = write("late.csv", matrix(3));
    const answers = threads.lanes.map((read) => read(source, {}));
    await threads.close();
    const [first, ...rest] = await Promise.all([...answers, threads.lanes[0]!(source, {})]);
    expect(first!.frames[0]!.raster.data[4]).toBe(Math.fround(23.5));
    for (const one of rest) expect(one).toEqual(first);
  });

  it("few files start none", () => {
    expect(openReadThreads(20).lanes).toEqual([]);
  });
});
