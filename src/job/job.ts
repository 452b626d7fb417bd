// job: the job as it stands in memory, everything in the order in which it was said.
import type { BoardMap, View } from "../board/board-schema.js";
import type { Findings } from "../findings/findings-schema.js";
import type { Reading, Reference } from "../readings/reading-schema.js";
import type { Attempt } from "./attempt-schema.js";
import type { Action, Entry } from "./entry-schema.js";
import type { JobHeader } from "./job-schema.js";

/** Where in the journal something was said, and when. */
export interface Told {
  readonly seq: number;
  /** ISO 8601 with offset. */
  readonly at: string;
}

/** A map of the device. Maps of one name are one board, the later ones corrections. */
export interface JobBoard extends Told {
  readonly name: string;
  readonly file: string;
  readonly sha256: string;
  readonly map: BoardMap;
}

/** An attempt with what was found. */
export interface JobAttempt extends Told {
  readonly attempt: Attempt;
  readonly findings: Findings;
  /** The map that it was analysed with; null without one. */
  readonly board: BoardMap | null;
  /** View of each of `attempt.views`; null without a board. */
  readonly views: readonly (View | null)[];
}

/** Everything that was said of a device, withdrawn lines left out of all but `entries`. */
export interface Job {
  readonly header: JobHeader;
  readonly boards: readonly JobBoard[];
  readonly attempts: readonly JobAttempt[];
  readonly readings: readonly (Reading & Told)[];
  readonly references: readonly (Reference & Told)[];
  readonly actions: readonly (Action & Told)[];
  readonly remarks: readonly (Told & { readonly text: string })[];
  /** Every line, also withdrawn ones and withdrawals. */
  readonly entries: readonly Entry[];
  /** `seq` of the lines that were withdrawn. */
  readonly withdrawn: ReadonlySet<number>;
  /** SHA-256 of the last line, of job.json where there is none: it vouches for all that stands before it. */
  readonly seal: string;
}

/** Files that lines of the journal point to, already read and checked. */
export interface Attachments {
  readonly attempt: (number: number) => Omit<JobAttempt, keyof Told>;
  readonly board: (sha256: string) => BoardMap;
}
