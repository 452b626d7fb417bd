// store: what every operation on a job folder may be told beside its work.
import { TOOL_VERSION } from "../core/tool-version.js";
import type { FrameShelf } from "../read/frame-shelf.js";
import type { KnownHashes } from "../read/known-hashes.js";
import type { AnalysisMemo } from "./analysis-memo.js";
import { DISK, type Storage } from "./storage.js";

/** Options of the operations on a job folder. */
export interface StoreOptions {
  readonly storage: Storage;
  /** Clock. */
  readonly now: () => Date;
  /** How long another process that writes to the job is waited for, s. */
  readonly waitS: number;
  /** For the files that are written. */
  readonly toolVersion: string;
  /** Called after each frame that was read, for a line of progress. */
  readonly onFile: (read: number, total: number) => void;
  /** Where frames of an attempt may be that this process has read before. */
  readonly shelf?: FrameShelf | undefined;
  /** Where the hashes of their files may be. */
  readonly hashes?: KnownHashes | undefined;
  /** Where the analysis of an attempt may be that this process has made before. */
  readonly memo?: AnalysisMemo | undefined;
}

/** Defaults of the operations on a job folder. */
export const STORE_DEFAULTS: StoreOptions = Object.freeze({
  storage: DISK,
  now: () => new Date(),
  /** Lines are written in milliseconds, an attempt in less than a second once it is analysed. */
  waitS: 10,
  toolVersion: TOOL_VERSION,
  onFile: () => {},
});
