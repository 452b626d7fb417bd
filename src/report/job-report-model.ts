// report: what a report of a job is made from.
import type { Comparison } from "../compare/comparison-schema.js";
import type { Evidence } from "../evidence/evidence-schema.js";
import type { Job } from "../job/job.js";
import type { BoardRise } from "./board-rise.js";

/** For whom a report is: the repairer gets all of it, the customer a short one without the maths. */
export type Audience = "repairer" | "customer";

/** Two attempts of a job, held against each other. */
export interface JobComparison {
  /** Numbers of the attempts. */
  readonly before: number;
  readonly after: number;
  /** Null where they can't be compared, such as by two maps; `reason` then says why. */
  readonly comparison: Comparison | null;
  readonly reason: string | null;
}

/** The rise that one view of an attempt shows on the board. */
export interface AttemptRise {
  readonly attempt: number;
  /** Which of the attempt's views. */
  readonly view: number;
  readonly rise: BoardRise;
}

/** Everything that a report of a job tells. */
export interface JobReportModel {
  readonly job: Job;
  /** What all attempts, readings and actions say together; null where it was not weighed. */
  readonly evidence: Evidence | null;
  /** In the order of the attempts. */
  readonly comparisons: readonly JobComparison[];
  /** Attempts without one are drawn without colour. */
  readonly rises: readonly AttemptRise[];
  readonly tool: { readonly name: string; readonly version: string };
}
