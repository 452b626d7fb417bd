// serve: the body of a request → its bytes as they come, each piece in its time.
import { ToolError } from "../core/errors.js";

/** The chunks of a body. @throws ToolError E_BENCH_SLOW if one is too long in coming, E_BENCH_REQUEST if the body
 *  breaks off. */
export async function* chunksOf(
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
        // Where this process itself was busy, what came meanwhile may lie unread: that is looked at before it is
        // judged.
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
