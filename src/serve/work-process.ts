// serve: pieces of work → a process beside the server that does them one after the other, so that the server can
// answer.
import { type ChildProcess, fork } from "node:child_process";
import { fileURLToPath } from "node:url";
import type { ErrorWords } from "../api/answer-error-schema.js";
import { ToolError } from "../core/errors.js";
import { wordsError } from "./error-words.js";
import type { WorkName, WorkProgress, Works } from "./works.js";

/** What the server sends. */
export interface WorkMessage {
  readonly id: number;
  readonly name: WorkName;
  readonly input: unknown;
  readonly toolVersion: string;
}

/** What the process sends. */
export type WorkAnswer =
  | { readonly id: number; readonly type: "progress"; readonly progress: WorkProgress }
  | { readonly id: number; readonly type: "done"; readonly output: unknown }
  | { readonly id: number; readonly type: "failed"; readonly words: ErrorWords };

/** How a piece of work is to be done. */
export interface WorkOptions {
  readonly onProgress?: (progress: WorkProgress) => void;
  readonly onStart?: () => void;
  /** Ends it: what has not begun is left out; what has is ended with its process, which a job folder survives. */
  readonly signal?: AbortSignal;
  /** Somebody waits for it: it goes before what only has to be done some time. */
  readonly urgent?: boolean;
}

/** Work was ended because it was no longer wanted. */
export class WorkCancelled extends Error {}

interface Piece {
  readonly message: WorkMessage;
  readonly options: WorkOptions;
  readonly resolve: (output: unknown) => void;
  readonly reject: (error: Error) => void;
}

/** The build's file, from the sources and from the build alike. */
const WORKER = fileURLToPath(new URL("../../dist/cli/bench-worker.cjs", import.meta.url));

/** Frames come and go by the hundred, and their memory is cleared often. Threads that help with it are waited for, and
 *  while frames are read all cores are busy: without them reading takes a tenth less of the processor. Clearing bit by
 *  bit takes another tenth more than at once, and at once it is over in some hundredths of a second: next to nothing
 *  that lives is objects. */
const FLAGS: readonly string[] = ["--single-threaded-gc", "--no-incremental-marking"];

/** Numbers of pieces: no two of one server are alike. */
let ids = 0;

/** A process that is there as long as there is work, and is begun anew where it was ended. */
export class WorkProcess {
  readonly #toolVersion: string;
  readonly #atOnce: number;
  #child: ChildProcess | null = null;
  readonly #running = new Map<number, Piece>();
  #waiting: Piece[] = [];
  #closed = false;
  /** Files of frames that the process has read and keeps, until an attempt is made of them. */
  #kept = 0;

  /** @param atOnce pieces that the process is given at a time: what waits for the disk or for Node's own threads leaves
   *  the process to others. */
  constructor(toolVersion: string, atOnce = 1) {
    this.#toolVersion = toolVersion;
    this.#atOnce = atOnce;
  }

  /** Do a piece of work.
   *  @throws WorkCancelled; ToolError E_BENCH_WORK if the process died; what the work throws. */
  run<Name extends WorkName>(
    name: Name,
    input: Works[Name]["input"],
    options: WorkOptions = {},
  ): Promise<Works[Name]["output"]> {
    return new Promise((resolve, reject) => {
      if (this.#closed || options.signal?.aborted === true) return reject(new WorkCancelled());
      const message = { id: ++ids, name, input, toolVersion: this.#toolVersion };
      const piece: Piece = { message, options, resolve: resolve as (output: unknown) => void, reject };
      const firstIdle = this.#waiting.findIndex((other) => other.options.urgent !== true);
      if (options.urgent === true && firstIdle >= 0) this.#waiting.splice(firstIdle, 0, piece);
      else this.#waiting.push(piece);
      options.signal?.addEventListener("abort", () => this.#cancel(piece), { once: true });
      this.#next();
    });
  }

  /** Number of the process; null while there is none. */
  get pid(): number | null {
    return this.#child?.pid ?? null;
  }

  /** End the process and all work. */
  async close(): Promise<void> {
    this.#closed = true;
    for (const piece of this.#waiting.splice(0)) piece.reject(new WorkCancelled());
    const child = this.#child;
    if (child === null || child.pid === undefined) return;
    const gone = new Promise((resolve) => child.once("exit", resolve));
    child.kill("SIGKILL");
    await gone;
  }

  /** Take the process of another that keeps more frames than the one here, which the other gets for it: what it has
   *  loaded and read is there already. Nothing is done where one of them is at work. */
  takeReaderOf(other: WorkProcess): void {
    if (this.#isBusy || other.#isBusy || other.#kept <= this.#kept) return;
    const [own, others] = [this.#letGo(), other.#letGo()];
    [this.#kept, other.#kept] = [other.#kept, this.#kept];
    this.#take(others);
    other.#take(own);
  }

  get #isBusy(): boolean {
    return this.#closed || this.#running.size > 0 || this.#waiting.length > 0;
  }

  #next(): void {
    while (this.#running.size < this.#atOnce && !this.#closed) {
      const piece = this.#waiting.shift();
      if (piece === undefined) return;
      this.#running.set(piece.message.id, piece);
      if (this.#child === null) this.#take(this.#begin());
      const child = this.#child!;
      piece.options.onStart?.();
      child.send(piece.message, (error) => {
        // The process has died; its `exit` says the rest.
        if (error !== null) child.kill("SIGKILL");
      });
    }
  }

  #begin(): ChildProcess {
    return fork(WORKER, [], {
      serialization: "advanced",
      execArgv: [...FLAGS],
      stdio: ["ignore", "ignore", "inherit", "ipc"],
    });
  }

  /** Listen to a process, and give it what is to be done. */
  #take(child: ChildProcess | null): void {
    this.#child = child;
    if (child === null) return;
    child.on("message", (message) => this.#hear(message as WorkAnswer));
    child.on("error", (error) => {
      // One that the system would not begin never exits.
      if (child.pid === undefined) this.#ended(child, (error as NodeJS.ErrnoException).code ?? error.message);
      else child.kill("SIGKILL");
    });
    child.on("exit", (status, signal) => this.#ended(child, signal ?? status));
  }

  /** Give the process away. */
  #letGo(): ChildProcess | null {
    const child = this.#child;
    this.#child = null;
    for (const event of ["message", "error", "exit"]) child?.removeAllListeners(event);
    return child;
  }

  #ended(child: ChildProcess, how: number | string | null): void {
    // One that could not be spoken to and then ended tells it twice.
    if (this.#child !== child) return;
    this.#child = null;
    this.#kept = 0;
    const lost = [...this.#running.values()];
    this.#running.clear();
    // One that was stopped took those beside it along: they are done anew.
    const wasStopped = lost.some(({ options }) => options.signal?.aborted === true);
    for (const piece of lost) {
      if (this.#closed || piece.options.signal?.aborted === true) piece.reject(new WorkCancelled());
      else if (wasStopped) this.#waiting.unshift(piece);
      else piece.reject(diedError(how));
    }
    this.#next();
  }

  #hear(message: WorkAnswer): void {
    const piece = this.#running.get(message.id);
    if (piece === undefined) return;
    if (message.type === "progress") {
      piece.options.onProgress?.(message.progress);
      return;
    }
    this.#running.delete(message.id);
    const { name } = piece.message;
    if (name === "readDropped") this.#kept++;
    if (name === "attempt") this.#kept = 0;
    if (message.type === "done") piece.resolve(message.output);
    else piece.reject(wordsError(message.words));
    this.#next();
  }

  #cancel(piece: Piece): void {
    const at = this.#waiting.indexOf(piece);
    if (at >= 0) {
      this.#waiting.splice(at, 1);
      piece.reject(new WorkCancelled());
    } else if (this.#running.has(piece.message.id)) this.#child?.kill("SIGKILL");
  }
}

function diedError(how: number | string | null): ToolError {
  return new ToolError("E_BENCH_WORK", {
    problem: `the process that worked on it ended (${how})`,
    fix: "Look at the free memory, close other programs, and do it again; the job is as it was before",
  });
}
