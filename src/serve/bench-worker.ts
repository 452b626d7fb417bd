// serve: messages from the server → work done in this process, one piece after the other, and what came of it.
import { doWork } from "./do-work.js";
import { errorWords } from "./error-words.js";
import type { WorkAnswer, WorkMessage } from "./work-process.js";

/** The server and this process end together; Ctrl-C goes to both, and the server says when it is over. */
process.on("disconnect", () => process.exit(0));
process.on("SIGINT", () => {});
/** Whoever read the server's words may be gone: what it does not want is dropped. */
process.stderr.on("error", () => {});

process.on("message", (message: WorkMessage) => {
  void answer(message);
});

async function answer({ id, name, input, toolVersion }: WorkMessage): Promise<void> {
  try {
    const say = (progress: { text: string; done: number; total: number | null }): void =>
      send({ id, type: "progress", progress });
    const output = await doWork(name, input as never, { toolVersion, say });
    send({ id, type: "done", output });
  } catch (error) {
    const words = errorWords(error);
    if (words.code === "FAULT") process.stderr.write(`${error instanceof Error ? error.stack : error}\n`);
    send({ id, type: "failed", words });
  }
}

/** A server that was killed a moment ago hears nothing more, though `connected` does not know of it yet. */
function send(message: WorkAnswer): void {
  if (!process.connected) return;
  process.send?.(message, (error: Error | null) => {
    if (error !== null) process.exit(0);
  });
}
