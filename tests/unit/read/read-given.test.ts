// Files that a person names: devices are refused, pipes are read to their end, and large files no further than is asked
// for.
import { execFileSync } from "node:child_process";
import { mkdtemp, rm, symlink, truncate, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { runBoardImport } from "../../../src/cli/run-board-import.js";
import { runJobReading } from "../../../src/cli/run-job-reading.js";
import { readFrames } from "../../../src/read/read-frames.js";
import { readGiven, readGivenAtOnce } from "../../../src/read/read-given.js";
import { readJsonFile } from "../../../src/read/read-json-file.js";
import { keepFrames } from "../../../src/store/keep-frames.js";
import { DISK } from "../../../src/store/storage.js";
import { unpackJob } from "../../../src/store/unpack-job.js";
import { CLOCK } from "../store/bench.js";

let folder: string;
const here = (name: string): string => join(folder, name);
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "faultglow-given-"));
  await writeFile(here("seven.bin"), "abcdefg");
});
afterAll(() => rm(folder, { recursive: true }));

/** Code and words of a refusal. */
async function refusal(work: () => Promise<unknown>): Promise<string> {
  try {
    await work();
  } catch (error) {
    const { code, message } = error as Error & { code: string };
    return `${code} ${message}`;
  }
  return "it was read";
}

const silent = { result: async () => {}, remark: async () => {} } as never;

describe("a file", () => {
  it("is read whole, or one byte further than is allowed, so that its reader sees that it is too large", async () => {
    expect((await readGiven(here("seven.bin"))).toString()).toBe("abcdefg");
    expect((await readGiven(here("seven.bin"), 7)).toString()).toBe("abcdefg");
    expect((await readGiven(here("seven.bin"), 4)).toString()).toBe("abcde");
  });

  it("that is a folder, or not there, is refused in the system's words", async () => {
    await expect(readGiven(folder)).rejects.toMatchObject({ code: "EISDIR" });
    await expect(readGiven(here("none"))).rejects.toMatchObject({ code: "ENOENT" });
  });
});

describe("a long file", () => {
  const MIB = 1024 * 1024;
  // With a hole in it: it has its length, and nothing on the disk.
  const makeLong = async (name: string, start: string, mib: number): Promise<string> => {
    await writeFile(here(name), start, "latin1");
    await truncate(here(name), mib * MIB);
    return here(name);
  };

  it("is shown to its judge by length and start, and read if nothing is said against it", async () => {
    const told: [number, string][] = [];
    const judge = (bytes: number, start: Buffer): void => {
      told.push([bytes, start.toString("latin1", 0, 7)]);
    };
    const path = await makeLong("long.bin", "abcdefg", 17);
    expect(await readGiven(path, 7, judge)).toHaveLength(8);
    expect(readGivenAtOnce(path, judge)).toHaveLength(17 * MIB);
    expect((await readGiven(here("seven.bin"), 7, judge)).toString()).toBe("abcdefg");
    expect(told).toEqual(Array(2).fill([17 * MIB, "abcdefg"]));
  });

  // Node reads no more than 2 GB at a time: were they read, its word would be the answer.
  const PNG = "\x89PNG\r\n\x1a\n";
  it.each([
    ["zeros.csv", "", 3000, /^E_FRAME_TYPE .*a binary file/],
    ["zeros.png", "", 3000, /^E_FRAME_LARGE .*at most 268435456 bytes, found 3145728000/],
    ["picture.csv", PNG, 257, /^E_FRAME_LARGE .*at most 268435456 bytes, found 269484032/],
    ["film.csv", "RIFF", 3000, /^E_FRAME_TYPE .*a RIFF file/],
    ["pages.tif", "II*\0", 3000, /^E_FRAME_LARGE .*at most 536870912 bytes/],
    ["text.csv", "20.5,21.5\n".repeat(500), 513, /^E_FRAME_LARGE .*in several files/],
  ])("of frames is refused by its start and its length: %s", async (name, start, mib, words) => {
    const path = await makeLong(name, start, mib);
    expect(await refusal(() => readFrames([path]))).toMatch(words);
    expect(await refusal(() => keepFrames([path], [name], folder, DISK))).toMatch(words);
  });

  it("of a job is refused where it does not begin as a zip", async () => {
    const path = await makeLong("job.zip", "a,b\n", 2000);
    expect(await refusal(() => unpackJob(path, here("job"), CLOCK))).toMatch(
      /^E_JOB_PACK .*its first bytes are none of a zip's/,
    );
  });
});

// Windows opens its devices by other names, and node:fs calls none of them a device.
describe.skipIf(process.platform === "win32")("a device is refused with a word, not read for ever", () => {
  it.each(["/dev/zero", "/dev/null", "/dev/urandom"])("%s", async (device) => {
    expect(await refusal(() => readFrames([device]))).toMatch(/^E_FRAME_READ .*it is a device/);
    expect(await refusal(() => readJsonFile(device))).toMatch(/^E_JSON_READ .*found a device/);
    expect(await refusal(() => runBoardImport(device, {} as never, silent))).toMatch(
      /^E_IMPORT_READ .*device/,
    );
    expect(await refusal(() => runJobReading(folder, { table: device } as never, silent))).toMatch(
      /^E_USAGE .*it is a device/,
    );
    expect(await refusal(() => unpackJob(device, here("job"), CLOCK))).toMatch(
      /^E_JOB_PACK .*it is a device/,
    );
    expect(await refusal(() => keepFrames([device], ["zero.csv"], folder, DISK))).toMatch(
      /^E_FRAME_READ .*it is a device/,
    );
  });

  it("also behind a link that lies in a folder of frames", async () => {
    const frames = await mkdtemp(join(folder, "frames-"));
    await symlink("/dev/zero", join(frames, "a.csv"));
    expect(await refusal(() => readFrames([frames]))).toMatch(/^E_FRAME_READ .*it is a device/);
    expect(await refusal(() => readFrames([join(frames, "*.csv")]))).toMatch(/^E_FRAME_READ .*device/);
  });
});

describe.skipIf(process.platform === "win32")("a pipe", () => {
  const pipe = (name: string): string => {
    execFileSync("mkfifo", [here(name)]);
    return here(name);
  };

  it("is read until its writer closes it, frames and JSON", async () => {
    const [frame, json] = [pipe("frame"), pipe("json")];
    const [read] = await Promise.all([readFrames([frame]), writeFile(frame, "20,21,22\n23,24,25.5\n")]);
    expect([...read.frames[0]!.raster.data]).toEqual([20, 21, 22, 23, 24, 25.5]);
    const [{ value }] = await Promise.all([readJsonFile(json), writeFile(json, '{"a":[1,2]}')]);
    expect(value).toEqual({ a: [1, 2] });
  });

  it("is left when it brings more than is asked for", async () => {
    const long = pipe("long");
    const writing = writeFile(long, Buffer.alloc(3_000_000, 65)).catch(
      ({ code }: NodeJS.ErrnoException) => code,
    );
    const bytes = await readGiven(long, 1000);
    expect(bytes.length).toBeGreaterThan(1000);
    // What a pipe and a stream hold, and no more.
    expect(bytes.length).toBeLessThan(300_000);
    expect(await writing).toBe("EPIPE");
  });

  it("in a folder is no frame, and nobody waits for it", async () => {
    const frames = await mkdtemp(join(folder, "pipes-"));
    execFileSync("mkfifo", [join(frames, "a.csv")]);
    expect(await refusal(() => readFrames([frames]))).toMatch(/^E_FRAME_NONE/);
    expect(await refusal(() => readFrames([join(frames, "*.csv")]))).toMatch(/^E_FRAME_NONE/);
  });
});
