// serve: what happens, here and on the disk → a stream of events for each page that is open.
import type { Hono } from "hono";
import type { ServerEvent } from "../api/event-schema.js";
import type { Bench } from "./bench-context.js";

/** How often the disk is looked at for what the command line or a watch did, ms, while a page is open. */
const LOOK_MS = 700;
/** How often something is sent so that a connection that is gone shows, ms. */
const ALIVE_MS = 20_000;
/** Events that wait for a page that does not read. One that is asleep for longer is hung up on: it comes back by itself
 *  and asks for all anew, while a queue without an end would take the memory of the server. */
const MOST_WAITING = 1000;

/** Answer requests for events. @returns a function that ends all streams. */
export function addEventRoutes(app: Hono, bench: Bench): () => void {
  const endings = new Set<() => void>();
  let stamps: ReadonlyMap<string, string> | null = null;
  let looking: Promise<void> | null = null;

  /** Tell of jobs whose journals changed, and of jobs that came or went. One look at a time. */
  const look = (): Promise<void> => {
    looking ??= lookNow().finally(() => {
      looking = null;
    });
    return looking;
  };
  const lookNow = async (): Promise<void> => {
    try {
      const now = await bench.jobs.stamps();
      const before = stamps;
      stamps = now;
      if (before === null) return;
      const changed = [...now].flatMap(([job, stamp]) => (before.get(job) === stamp ? [] : [job]));
      for (const job of changed) bench.events.tell({ type: "job", job });
      if (changed.length > 0 || before.size !== now.size) bench.events.tell({ type: "jobs" });
    } catch {
      // The folder may be away for a while; it is looked at again.
      return;
    }
  };
  const timer = setInterval(() => {
    if (bench.events.isHeard) void look();
    else stamps = null;
  }, LOOK_MS);
  timer.unref();

  app.get("/api/events", async (c) => {
    // What a page asks for after its first event is not older than what changes are told from.
    if (stamps === null) await look();
    const text = new TextEncoder();
    let end = (): void => {};
    const stream = new ReadableStream<Uint8Array>({
      start(controller) {
        const send = (line: string): void => {
          // What is wanted falls by one with each that waits.
          if ((controller.desiredSize ?? 0) < -MOST_WAITING) end();
          else controller.enqueue(text.encode(`${line}\n\n`));
        };
        const tell = (event: ServerEvent): void => send(`data: ${JSON.stringify(event)}`);
        const alive = setInterval(() => send(": alive"), ALIVE_MS);
        const stop = bench.events.listen(tell);
        end = () => {
          endings.delete(end);
          clearInterval(alive);
          stop();
          try {
            controller.close();
          } catch {
            // The browser had gone already.
            return;
          }
        };
        endings.add(end);
        tell({ type: "hello", tool: bench.toolVersion });
      },
      cancel: () => end(),
    });
    return c.body(stream, 200, { "Content-Type": "text/event-stream; charset=utf-8" });
  });

  return () => {
    clearInterval(timer);
    for (const end of [...endings]) end();
  };
}
