// watch: what the watcher does with the world, what it is told, and what it says → types and defaults.
import type { ToolError } from "../core/errors.js";
import type { PlannedAttempt, WaitingGroup } from "./plan-attempts.js";
import type { NamePatterns } from "./tell-role.js";
import type { FrameGroup, JobRecord, ListedFile, Role } from "./watched-frame.js";

/** What reading a file gives: its frames' size, or what is wrong with it. */
export type ReadOutcome =
  | { readonly sha256: string; readonly width: number; readonly height: number }
  | { readonly sha256: string | null; readonly fault: ToolError };

/** Something worth saying. */
export type WatchEvent =
  /** Files that are older than the job and are left alone. */
  | { readonly type: "older"; readonly files: readonly ListedFile[] }
  | { readonly type: "setAside"; readonly file: ListedFile; readonly fault: ToolError }
  /** A file that can't be read yet, or an attempt that can't be added yet: it is tried again. */
  | { readonly type: "later"; readonly names: readonly string[]; readonly fault: ToolError }
  /** An attempt that the job refuses; its frames stay where they are, and the next run tries them again. */
  | { readonly type: "refused"; readonly names: readonly string[]; readonly fault: ToolError }
  | { readonly type: "waiting"; readonly waiting: WaitingGroup };

/** What the watcher does with the world; tests give their own. */
export interface WatchPorts {
  readonly list: () => Promise<readonly ListedFile[]>;
  readonly read: (file: ListedFile) => Promise<ReadOutcome>;
  readonly record: () => Promise<JobRecord>;
  /** Add an attempt, and say what was found. */
  readonly add: (attempt: PlannedAttempt) => Promise<void>;
  readonly setAside: (file: ListedFile, sha256: string, fault: ToolError) => Promise<void>;
  /** Ask a person for the role of a group; null: leave these frames alone. The port is null where nobody can be
   *  asked. */
  readonly ask: ((group: FrameGroup) => Promise<Role | null>) | null;
  readonly say: (event: WatchEvent) => Promise<void>;
  /** A clock that nobody can set back, ms. */
  readonly now: () => number;
  /** Wait; ends early when something changes in the folder or the watcher is told to stop. */
  readonly pause: (ms: number) => Promise<void>;
  readonly isStopped: () => boolean;
}

/** Options of the watcher. */
export interface WatchOptions {
  /** How long a file must stay the same to count as whole, ms. */
  readonly settleMs: number;
  /** Longest pause between two frames of one group, ms. */
  readonly gapMs: number;
  /** How long a file that can't be read is given to become whole, ms. */
  readonly patienceMs: number;
  /** Time between two looks at the folder, ms; network drives tell of no changes by themselves. */
  readonly pollMs: number;
  /** How roles are told: by names, or by the order of groups. */
  readonly tell: "name" | "order";
  readonly patterns: NamePatterns;
  /** Take files too that are older than the job. */
  readonly older: boolean;
  /** End when nothing is left to be done in place of waiting for more. */
  readonly once: boolean;
}

/** Defaults of the watcher. */
export const WATCH_DEFAULTS: WatchOptions = Object.freeze({
  /** Cameras and copies write a frame in well under a second; a pause of a whole one inside a file is rare. */
  settleMs: 1000,
  /** Bursts run at a frame a second or faster, and a person takes longer than this to switch the supply on. */
  gapMs: 5000,
  /** Slow shares deliver in pieces with seconds between them. */
  patienceMs: 10_000,
  pollMs: 1000,
  tell: "name",
  patterns: {},
  older: false,
  once: false,
});
