// serve: the bytes of a request as they come → a file on the disk with its SHA-256; nothing is held in memory.
import { createHash } from "node:crypto";
import { open, rm } from "node:fs/promises";
import { ToolError } from "../core/errors.js";
import { jobWriteError } from "../store/store-error.js";
import type { BenchLimits } from "./bench-context.js";

/** Write what is sent to a new file, flushed. Where it is too large, stops, or breaks off, nothing is left of it.
 *  @param path of a file that is not there.
 *  @throws ToolError E_BENCH_LARGE, E_BENCH_SLOW, E_BENCH_REQUEST if it breaks off, E_JOB_WRITE if the disk refuses. */
export async function receiveFile(
  body: ReadableStream<Uint8Array> | null,
  path: string,
  { fileBytes, stallMs }: Pick<BenchLimits, "fileBytes" | "stallMs">,
): Promise<{ sha256: string; bytes: number }> {
  const hash = createHash("sha256");
  let bytes = 0;
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
    await handle.close();
  } catch (error) {
    await handle.close().catch(() => {});
    await rm(path, { force: true });
    throw error;
  }
  return { sha256: hash.digest("hex"), bytes };
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

/** The chunks of a body, each of which has to come in its time. */
async function* chunksOf(
  body: ReadableStream<Uint8Array> | null,
  stallMs: number,
): AsyncGenerator<Uint8Array> {
  if (body === null) return;
  const reader = body.getReader();
  let isWhole = false;
  try {
    for (;;) {
      const { done, value } = await inTime(reader.read(), stallMs);
      if (done) break;
      yield value;
    }
    isWhole = true;
  } finally {
    if (!isWhole) reader.cancel().catch(() => {});
  }
}

async function inTime<T>(read: Promise<T>, stallMs: number): Promise<T> {
  let isOver = false;
  let timer: NodeJS.Timeout | undefined;
  const stalled = new Promise<never>((_, reject) => {
    const wait = (): void => {
      const dueMs = performance.now() + stallMs;
      timer = setTimeout(async () => {
        // Where this process itself was busy, what came meanwhile may lie unread: that is looked at before it is judged.
        const wasBusy = performance.now() - dueMs > BUSY_MS;
        await turn();
        await turn();
        if (isOver) return;
        if (wasBusy) return wait();
        reject(
          new ToolError("E_BENCH_SLOW", {
            problem: `nothing more came for ${stallMs / 1000} s`,
            fix: "Send it again",
          }),
        );
      }, stallMs);
    };
    wait();
  });
  try {
    return await Promise.race([read, stalled]);
  } catch (error) {
    if (error instanceof ToolError) throw error;
    throw new ToolError("E_BENCH_REQUEST", {
      problem: "what was sent broke off before its end",
      fix: "Send it again",
    });
  } finally {
    isOver = true;
    clearTimeout(timer);
  }
}

/** A timer that comes so much too late, ms, says that the process was busy. */
const BUSY_MS = 100;

/** One round of the event loop, in which it reads what has come. */
function turn(): Promise<void> {
  return new Promise((done) => setImmediate(done));
}

/** The error for what is larger than a limit. */
export function largeError(limit: number): ToolError {
  return new ToolError("E_BENCH_LARGE", {
    problem: `expected at most ${limit} bytes, but more came`,
    fix: "Drop single frames or shorter recordings",
  });
}
