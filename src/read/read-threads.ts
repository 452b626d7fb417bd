// read: number of files → threads that read some of them beside this one, where there are many files and a core to spare.
import { existsSync } from "node:fs";
import { availableParallelism, loadavg } from "node:os";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import { type ErrorCode, type ErrorParts, ToolError } from "../core/errors.js";
import { type FileFrames, type FileOptions, type FrameSource, readFrameFile } from "./read-frame-file.js";

/** A file to be read by a thread. */
export interface ReadMessage {
  readonly id: number;
  readonly source: FrameSource;
  readonly options: FileOptions;
}

/** What became of it. */
export type ReadAnswer =
  | { readonly id: number; readonly file: FileFrames }
  | { readonly id: number; readonly code: ErrorCode; readonly parts: ErrorParts }
  | { readonly id: number; readonly fault: unknown };

/** Threads, and the ways to them. */
export interface ReadThreads {
  /** Each reads one file at a time, like `readFrameFile`; several may lead to one thread, so that it never waits. */
  readonly lanes: readonly (typeof readFrameFile)[];
  readonly close: () => Promise<void>;
}

/** Files from which on a thread pays: until its code is fast it has cost as much as 120 frames of 256×192 do here. */
const LEAST_FILES = 600;
/** Beyond so many threads, this one is busy with what they bring. */
const MOST_THREADS = 3;
const LANES_A_THREAD = 3;
/** What a thread may hold of short-lived objects, MB: it has next to none that live. */
const YOUNG_MB = 4;

/** Start threads; none where the sources run without a build.
 *  @param count how many; by default none for few files, or where no core is idle: a thread that waits for its turn is slower
 *  than none.
 */
export function openReadThreads(files: number, count = threadsToSpare(files)): ReadThreads {
  const script = fileURLToPath(new URL("./read-worker.js", import.meta.url));
  if (count < 1 || !existsSync(script)) return { lanes: [], close: async () => {} };
  const threads = Array.from({ length: count }, () => startThread(script));
  return {
    lanes: threads.flatMap(({ read }) => new Array<typeof readFrameFile>(LANES_A_THREAD).fill(read)),
    close: async () => {
      await Promise.all(threads.map(({ worker }) => worker.terminate()));
    },
  };
}

/** Idle cores beside this one, by what the system had to do in the last minute. */
function threadsToSpare(files: number): number {
  if (files < LEAST_FILES) return 0;
  const cores = availableParallelism();
  return Math.min(MOST_THREADS, cores - 1, Math.floor(cores - loadavg()[0]!));
}

interface Waiting {
  readonly source: FrameSource;
  readonly options: FileOptions;
  readonly resolve: (file: FileFrames | Promise<FileFrames>) => void;
  readonly reject: (error: unknown) => void;
}

function startThread(script: string): { worker: Worker; read: typeof readFrameFile } {
  const worker = new Worker(script, { resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MB } });
  const waiting = new Map<number, Waiting>();
  let next = 0;
  let ended = false;
  // A thread that can't go on is no reason to fail: what it was to read is read here.
  const giveUp = (): void => {
    ended = true;
    for (const { source, options, resolve } of waiting.values()) resolve(readFrameFile(source, options));
    waiting.clear();
  };
  worker.on("message", (answer: ReadAnswer) => {
    const one = waiting.get(answer.id);
    waiting.delete(answer.id);
    if ("file" in answer) one?.resolve(answer.file);
    else one?.reject("code" in answer ? new ToolError(answer.code, answer.parts) : answer.fault);
  });
  worker.on("error", giveUp);
  worker.on("exit", giveUp);
  return {
    worker,
    read: (source, options) =>
      ended
        ? readFrameFile(source, options)
        : new Promise((resolve, reject) => {
            const id = next++;
            waiting.set(id, { source, options, resolve, reject });
            worker.postMessage({ id, source, options } satisfies ReadMessage);
          }),
  };
}
