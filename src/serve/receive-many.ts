// serve: a request with several small files → each on the disk with its SHA-256, all or none.
import { createHash, randomUUID } from "node:crypto";
import { type FileHandle, open, rm } from "node:fs/promises";
import { join } from "node:path";
import { inboxHeadSchema } from "../api/inbox-schema.js";
import { ToolError } from "../core/errors.js";
import { stampText } from "../read/known-hashes.js";
import { jobWriteError } from "../store/store-error.js";
import type { BenchLimits } from "./bench-context.js";
import { chunksOf, largeError } from "./body-chunks.js";
import { checked } from "./check-request.js";
import { parseBody } from "./receive-file.js";

/** A file that was received. */
export interface Received {
  /** As it was dropped. */
  readonly name: string;
  readonly path: string;
  readonly sha256: string;
  readonly bytes: number;
  /** Of the file as it lies there, whatever it is called. */
  readonly stamp: string;
}

/** All files of one request, bytes: they are held in memory until they are written. */
const MOST_BYTES = 16 * 1024 * 1024;
/** The list at the head of a request: 64 names of 400 letters, some of them of three bytes. */
const MOST_HEAD_BYTES = 96 * 1024;
const LINE_END = 10;

/** Write the files of a request into a folder, flushed together: a disk flushes many in hardly more time than one. The
 *  body is a line of JSON, `inboxHeadSchema`, and then the bytes of the files that it lists. Where it is too large,
 *  stops, breaks off or does not hold what its list says, nothing is left of it.
 *  @throws ToolError E_BENCH_LARGE, E_BENCH_SLOW, E_BENCH_REQUEST, E_JOB_WRITE if the disk refuses. */
export async function receiveMany(
  body: ReadableStream<Uint8Array> | null,
  folder: string,
  { stallMs }: Pick<BenchLimits, "stallMs">,
): Promise<Received[]> {
  const source = new BodySource(chunksOf(body, stallMs));
  const files = checked(inboxHeadSchema, parseBody(await source.takeLine()));
  if (files.reduce((sum, { bytes }) => sum + bytes, 0) > MOST_BYTES) throw largeError(MOST_BYTES);
  const paths = files.map(() => join(folder, randomUUID()));
  const writing: Promise<Received>[] = [];
  try {
    for (const [i, { name, bytes }] of files.entries()) {
      const content = await source.take(bytes);
      // While one file is written and flushed, the next ones come.
      const written = writeFlushed(paths[i]!, name, content);
      // It is told of at the end, when all have come.
      written.catch(() => {});
      writing.push(written);
    }
    await source.end();
    return await Promise.all(writing);
  } catch (error) {
    await Promise.allSettled(writing);
    for (const path of paths) await rm(path, { force: true });
    throw error;
  } finally {
    source.close();
  }
}

async function writeFlushed(path: string, name: string, parts: readonly Uint8Array[]): Promise<Received> {
  const hash = createHash("sha256");
  const bytes = parts.reduce((sum, part) => sum + part.length, 0);
  for (const part of parts) hash.update(part);
  let stamp: string;
  try {
    const handle = await open(path, "wx");
    try {
      await writeParts(handle, parts, bytes);
      await handle.sync();
      stamp = stampText(await handle.stat({ bigint: true }));
    } finally {
      await handle.close();
    }
  } catch (error) {
    throw jobWriteError(path, error);
  }
  return { name, path, sha256: hash.digest("hex"), bytes, stamp };
}

/** Written as they came: joining them first would double the memory that has to be cleared after each file. */
async function writeParts(handle: FileHandle, parts: readonly Uint8Array[], bytes: number): Promise<void> {
  if (bytes === 0) return;
  const { bytesWritten } = await handle.writev(parts);
  // A system may take less than all at a time, as a disk does that is filling up.
  if (bytesWritten < bytes) await handle.writeFile(Buffer.concat(parts).subarray(bytesWritten));
}

/** Takes pieces of any length from a body. */
class BodySource {
  readonly #chunks: AsyncGenerator<Uint8Array>;
  /** What has come and was not taken. */
  #rest: Uint8Array = new Uint8Array(0);

  constructor(chunks: AsyncGenerator<Uint8Array>) {
    this.#chunks = chunks;
  }

  /** The bytes of the first line, without its end. */
  async takeLine(): Promise<Uint8Array> {
    const parts: Uint8Array[] = [];
    for (let bytes = 0; ; ) {
      const chunk = await this.#next();
      const end = chunk.indexOf(LINE_END);
      parts.push(end < 0 ? chunk : chunk.subarray(0, end));
      bytes += parts.at(-1)!.length;
      if (bytes > MOST_HEAD_BYTES) throw largeError(MOST_HEAD_BYTES);
      if (end < 0) continue;
      this.#rest = chunk.subarray(end + 1);
      return Buffer.concat(parts);
    }
  }

  /** So many bytes, in the pieces in which they come. */
  async take(bytes: number): Promise<Uint8Array[]> {
    const parts: Uint8Array[] = [];
    for (let missing = bytes; missing > 0; ) {
      const chunk = await this.#next();
      const part = chunk.subarray(0, missing);
      this.#rest = chunk.subarray(part.length);
      parts.push(part);
      missing -= part.length;
    }
    return parts;
  }

  /** @throws ToolError E_BENCH_REQUEST if there is more. */
  async end(): Promise<void> {
    if (this.#rest.length > 0 || (await this.#chunks.next()).done !== true)
      throw unlikeHead("more than the files that its list names");
  }

  close(): void {
    this.#chunks.return(undefined).catch(() => {});
  }

  async #next(): Promise<Uint8Array> {
    const rest = this.#rest;
    this.#rest = new Uint8Array(0);
    if (rest.length > 0) return rest;
    const { done, value } = await this.#chunks.next();
    if (done === true) throw unlikeHead("less than the files that its list names");
    return value;
  }
}

function unlikeHead(found: string): ToolError {
  return new ToolError("E_BENCH_REQUEST", {
    problem: `expected a list of files and then their bytes, found ${found}`,
    fix: "Send it again",
  });
}
