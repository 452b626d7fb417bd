// Several files in one request: all of them on the disk, or none.
import { createHash } from "node:crypto";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { packFiles } from "../../../src/api/pack-files.js";
import { fileStamp } from "../../../src/read/known-hashes.js";
import { receiveMany } from "../../../src/serve/receive-many.js";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "faultglow-many-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const bytesOf = async (blob: Blob): Promise<Uint8Array> => new Uint8Array(await blob.arrayBuffer());
const text = (words: string): Uint8Array => new TextEncoder().encode(words);

/** A body that comes in pieces of so many bytes. */
function streamOf(body: Uint8Array, piece = 7): ReadableStream<Uint8Array> {
  let at = 0;
  return new ReadableStream({
    pull(controller) {
      if (at === body.length) return controller.close();
      controller.enqueue(body.subarray(at, at + piece));
      at = Math.min(body.length, at + piece);
    },
  });
}
const receive = (body: Uint8Array, piece?: number) =>
  receiveMany(streamOf(body, piece), folder, { stallMs: 10_000 });

describe("several files in one request", () => {
  it("are taken apart as they were put together, wherever the pieces are cut", async () => {
    const files = fc.array(
      fc.record({
        name: fc.string({ minLength: 1, maxLength: 20 }),
        content: fc.uint8Array({ maxLength: 300 }),
      }),
      { minLength: 1, maxLength: 6 },
    );
    await fc.assert(
      fc.asyncProperty(files, fc.integer({ min: 1, max: 200 }), async (given, piece) => {
        const blobs = given.map(({ name, content }) => ({
          name,
          content: new Blob([new Uint8Array(content)]),
          bytes: content.length,
        }));
        const received = await receive(await bytesOf(packFiles(blobs)), piece);
        expect(received.map(({ name, bytes }) => [name, bytes])).toEqual(
          given.map(({ name, content }) => [name, content.length]),
        );
        for (const [i, { path, sha256, stamp }] of received.entries()) {
          const { content } = given[i]!;
          expect(new Uint8Array(readFileSync(path))).toEqual(new Uint8Array(content));
          expect(sha256).toBe(createHash("sha256").update(content).digest("hex"));
          expect(stamp).toBe(await fileStamp(path));
          rmSync(path);
        }
      }),
      { numRuns: 40 },
    );
  });

  const head = (files: readonly { name: string; bytes: number }[]): string => `${JSON.stringify(files)}\n`;
  const a = { name: "a.csv", bytes: 3 };
  it.each([
    ["less than is listed", `${head([a, { ...a, bytes: 9 }])}123456`, "E_BENCH_REQUEST"],
    ["more than is listed", `${head([a, a])}1234567`, "E_BENCH_REQUEST"],
    ["no list", "20,21\n22,23\n", "E_BENCH_REQUEST"],
    ["an empty list", "[]\n", "E_BENCH_REQUEST"],
    ["no end of the list", JSON.stringify([a]), "E_BENCH_REQUEST"],
    ["nothing", "", "E_BENCH_REQUEST"],
    ["a file without a name", `${head([{ ...a, name: "" }])}123`, "E_BENCH_REQUEST"],
    ["a size below nothing", head([{ ...a, bytes: -1 }]), "E_BENCH_REQUEST"],
    ["too many files", head(new Array(65).fill({ ...a, bytes: 0 })), "E_BENCH_REQUEST"],
    ["a list that is too long", `[${" ".repeat(100_000)}]\n`, "E_BENCH_LARGE"],
    ["more than memory is for", head([a, { ...a, bytes: 16 * 1024 * 1024 }]), "E_BENCH_LARGE"],
  ])("%s is refused, and leaves nothing", async (_, body, code) => {
    await expect(receive(text(body), 1000)).rejects.toMatchObject({ code });
    expect(readdirSync(folder)).toEqual([]);
  });

  it("that stop coming are given up, and leave nothing", async () => {
    const stream = new ReadableStream<Uint8Array>({
      start: (controller) => controller.enqueue(text(`${head([a, { ...a, bytes: 9 }])}1234`)),
    });
    await expect(receiveMany(stream, folder, { stallMs: 60 })).rejects.toMatchObject({
      code: "E_BENCH_SLOW",
    });
    expect(readdirSync(folder)).toEqual([]);
  });

  it("that can't be written are refused as a whole", async () => {
    const gone = join(folder, "gone");
    const body = await bytesOf(packFiles([{ name: "a.csv", content: new Blob(["1,2"]), bytes: 3 }]));
    await expect(receiveMany(streamOf(body), gone, { stallMs: 1000 })).rejects.toMatchObject({
      code: "E_JOB_WRITE",
    });
  });
});
