// serve: the bytes of a request as they come → a file on the disk with its SHA-256; nothing is held in memory.
import { createHash } from "node:crypto";
import { open, rm } from "node:fs/promises";
import { ToolError } from "../core/errors.js";
import { stampText } from "../read/known-hashes.js";
import { jobWriteError } from "../store/store-error.js";
import type { BenchLimits } from "./bench-context.js";
import { chunksOf, largeError } from "./body-chunks.js";

/** Write what is sent to a new file, flushed. Where it is too large, stops, or breaks off, nothing is left of it.
 *  @param path of a file that is not there.
 *  @throws ToolError E_BENCH_LARGE, E_BENCH_SLOW, E_BENCH_REQUEST if it breaks off, E_JOB_WRITE if the disk refuses. */
export async function receiveFile(
  body: ReadableStream<Uint8Array> | null,
  path: string,
  { fileBytes, stallMs }: Pick<BenchLimits, "fileBytes" | "stallMs">,
): Promise<{ sha256: string; bytes: number; stamp: string }> {
  const hash = createHash("sha256");
  let bytes = 0;
  let stamp: string;
  const handle = await open(path, "wx").catch((error) => {
    throw jobWriteError(path, error);
  });
  try {
    for await (const chunk of chunksOf(body, stallMs)) {
      bytes += chunk.length;
      if (bytes > fileBytes) throw largeError(fileBytes);
      hash.update(chunk);
      await handle.writeFile(chunk).catch((error) => {
        throw jobWriteError(path, error);
      });
    }
    await handle.sync().catch((error) => {
      throw jobWriteError(path, error);
    });
    stamp = stampText(await handle.stat({ bigint: true }));
    await handle.close();
  } catch (error) {
    await handle.close().catch(() => {});
    await rm(path, { force: true });
    throw error;
  }
  return { sha256: hash.digest("hex"), bytes, stamp };
}

/** Read a request in JSON. @throws ToolError E_BENCH_LARGE, E_BENCH_SLOW, E_BENCH_REQUEST */
export async function receiveJson(
  body: ReadableStream<Uint8Array> | null,
  { jsonBytes, stallMs }: Pick<BenchLimits, "jsonBytes" | "stallMs">,
): Promise<unknown> {
  const chunks: Uint8Array[] = [];
  let bytes = 0;
  for await (const chunk of chunksOf(body, stallMs)) {
    bytes += chunk.length;
    if (bytes > jsonBytes) throw largeError(jsonBytes);
    chunks.push(chunk);
  }
  return parseBody(Buffer.concat(chunks));
}

/** Read the bytes of a request in JSON. @throws ToolError E_BENCH_REQUEST */
export function parseBody(bytes: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(bytes));
  } catch {
    throw new ToolError("E_BENCH_REQUEST", {
      problem: "expected a request in JSON, found something else",
      fix: "Send JSON in UTF-8",
    });
  }
}
