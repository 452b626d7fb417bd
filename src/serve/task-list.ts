// serve: work that takes a while → tasks that can be followed and ended.
import { randomUUID } from "node:crypto";
import { TASK_DONE, type Task } from "../api/task-schema.js";
import { ToolError } from "../core/errors.js";
import { noneError } from "./bench-context.js";
import { errorWords } from "./error-words.js";
import type { EventHub } from "./event-hub.js";
import { WorkCancelled, type WorkOptions } from "./work-process.js";

/** What a task leaves behind. */
export interface TaskOutcome {
  readonly attempt?: number;
  readonly files?: readonly string[];
  /** What is lacking in it, in words. */
  readonly text?: string;
}

/** Ended tasks that are kept. */
const KEPT = 200;

/** The tasks of a bench. */
export class TaskList {
  readonly #events: EventHub;
  readonly #tasks = new Map<string, { task: Task; stop: AbortController }>();

  constructor(events: EventHub) {
    this.#events = events;
  }

  /** Begin a task; what goes wrong is told by the task.
   *  @param work done with the options that it is given. */
  begin(
    kind: Task["kind"],
    job: string,
    work: (options: WorkOptions) => Promise<TaskOutcome>,
    onFault: (error: unknown) => void,
  ): Task {
    const id = randomUUID();
    const stop = new AbortController();
    const task: Task = {
      id,
      kind,
      job,
      state: "waiting",
      text: "Waiting for other work",
      done: 0,
      total: null,
      error: null,
      attempt: null,
      files: [],
    };
    this.#tasks.set(id, { task, stop });
    this.#forget();
    const options: WorkOptions = {
      signal: stop.signal,
      onStart: () => this.#change(id, { state: "running", text: "Beginning" }),
      onProgress: ({ text, done, total }) =>
        this.#change(id, { text, done, total: total !== null && total > 0 ? total : null }),
    };
    work(options).then(
      ({ attempt = null, files = [], text = TASK_DONE }) =>
        this.#change(id, { state: "done", text, attempt, files: [...files] }),
      (error) => {
        if (error instanceof WorkCancelled) return this.#change(id, { state: "cancelled", text: "Stopped" });
        if (!(error instanceof ToolError)) onFault(error);
        this.#change(id, { state: "failed", text: "Failed", error: errorWords(error) });
      },
    );
    return this.#tasks.get(id)!.task;
  }

  /** @throws ToolError E_BENCH_NONE */
  get(id: string): Task {
    const one = this.#tasks.get(id);
    if (one === undefined) throw noneError("there is no such task in this run of the bench");
    return one.task;
  }

  /** True while a task of that kind goes on for a job. */
  isGoing(kind: Task["kind"], job: string): boolean {
    return this.of(job).some((task) => task.kind === kind && !isOver(task));
  }

  /** Tasks of a job, the latest first. */
  of(job: string): Task[] {
    return [...this.#tasks.values()].flatMap(({ task }) => (task.job === job ? [task] : [])).reverse();
  }

  /** End a task; nothing if it is over. @throws ToolError E_BENCH_NONE */
  cancel(id: string): Task {
    this.get(id);
    this.#tasks.get(id)!.stop.abort();
    return this.get(id);
  }

  #change(id: string, change: Partial<Task>): void {
    const one = this.#tasks.get(id);
    if (one === undefined) return;
    one.task = { ...one.task, ...change };
    this.#events.tell({ type: "task", task: one.task });
  }

  #forget(): void {
    for (const [id, { task }] of this.#tasks) {
      if (this.#tasks.size <= KEPT) return;
      if (isOver(task)) this.#tasks.delete(id);
    }
  }
}

function isOver({ state }: Task): boolean {
  return state !== "waiting" && state !== "running";
}
