// read: what a thread that reads frame files does: each message a file, each answer its frames or its error.
import { parentPort } from "node:worker_threads";
import { ToolError } from "../core/errors.js";
import { readFrameFile } from "./read-frame-file.js";
import type { ReadAnswer, ReadMessage } from "./read-threads.js";

parentPort!.on("message", async ({ id, source, options }: ReadMessage) => {
  try {
    const file = await readFrameFile(source, options);
    const answer: ReadAnswer = { id, file };
    // Handed over, not copied.
    parentPort!.postMessage(answer, [
      ...new Set(file.frames.map(({ raster }) => raster.data.buffer as ArrayBuffer)),
    ]);
  } catch (error) {
    // A class does not survive the way: its parts do.
    const answer: ReadAnswer =
      error instanceof ToolError ? { id, code: error.code, parts: error.parts } : { id, fault: error };
    parentPort!.postMessage(answer);
  }
});
