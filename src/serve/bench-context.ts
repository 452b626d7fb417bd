// serve: what all answers of one bench share → types, and the errors that several of them give.
import { ToolError } from "../core/errors.js";
import type { AttemptsAhead } from "./attempts-ahead.js";
import type { EventHub } from "./event-hub.js";
import type { InboxFolder } from "./inbox-folder.js";
import type { JobFinder } from "./job-finder.js";
import type { TaskList } from "./task-list.js";
import type { WatchList } from "./watch-list.js";
import type { WorkProcess } from "./work-process.js";

/** Limits of what is taken in. */
export interface BenchLimits {
  /** Largest file, bytes. */
  readonly fileBytes: number;
  /** Largest request in JSON, bytes. */
  readonly jsonBytes: number;
  /** How long nothing may come of a file that is being sent, ms. */
  readonly stallMs: number;
  /** How long the head of a request, and all of it, may take, ms. */
  readonly headMs: number;
  readonly requestMs: number;
}

/** Defaults of the limits. */
export const BENCH_LIMITS: BenchLimits = Object.freeze({
  /** A recording of 1000 frames of 640×512 in a TIFF has 650 MB. */
  fileBytes: 1024 * 1024 * 1024,
  /** A map of ten thousand parts has about 2 MB. */
  jsonBytes: 8 * 1024 * 1024,
  /** Everything comes from this machine: a pause of this length is no pause any more. */
  stallMs: 15_000,
  headMs: 10_000,
  requestMs: 300_000,
});

/** What the answers of a bench share. */
export interface Bench {
  readonly toolVersion: string;
  readonly limits: BenchLimits;
  readonly jobs: JobFinder;
  readonly inbox: InboxFolder;
  readonly tasks: TaskList;
  readonly ahead: AttemptsAhead;
  readonly watches: WatchList;
  readonly events: EventHub;
  /** For reading and showing frames, for what a person waits for a second or two, and for what takes long. */
  readonly quick: WorkProcess;
  readonly medium: WorkProcess;
  readonly long: WorkProcess;
}

/** The error for what is not there. */
export function noneError(problem: string): ToolError {
  return new ToolError("E_BENCH_NONE", { problem, fix: "Load the page again: it may have been removed" });
}
