// store: attempts of a job → what changed from one to the other, with what was done in between.
import { ACTION_WORDS, type ActionWord } from "../compare/action-words.js";
import { compareFindings } from "../compare/compare-findings.js";
import type { Action as ComparedAction, Comparison } from "../compare/comparison-schema.js";
import { makeProfile } from "../compare/make-profile.js";
import type { Profile } from "../compare/profile-schema.js";
import { ToolError } from "../core/errors.js";
import type { Job, JobAttempt } from "../job/job.js";
import { sameName } from "../readings/classify-readings.js";
import type { JobComparison } from "../report/job-report-model.js";

/** Hold each attempt against the one before it of the same board. Attempts on good boards make the profile that parts
 *  are held against, and are not compared themselves.
 */
export function compareAttempts(job: Job, toolVersion: string): JobComparison[] {
  const last = new Map<string | null, JobAttempt>();
  const comparisons: JobComparison[] = [];
  for (const after of job.attempts) {
    if (after.attempt.conditions.healthy) continue;
    const name = after.attempt.board?.name ?? null;
    const before = last.get(name);
    last.set(name, after);
    if (before !== undefined) comparisons.push(comparePair(job, before, after, toolVersion));
  }
  return comparisons;
}

function comparePair(job: Job, before: JobAttempt, after: JobAttempt, toolVersion: string): JobComparison {
  const numbers = { before: before.attempt.number, after: after.attempt.number };
  try {
    return { ...numbers, comparison: compareTwo(job, before, after, toolVersion), reason: null };
  } catch (error) {
    // Two attempts that can't be compared, such as by two maps, are told as that; the rest of the report stands.
    if (!(error instanceof ToolError)) throw error;
    return { ...numbers, comparison: null, reason: error.parts.problem };
  }
}

/** Hold any attempt of a job against any other: with what was done in between, and with the attempts on good boards of
 *  the same map as the profile, unless they are left out.
 *  @param options.healthy false: without the profile.
 *  @throws ToolError those of `compareFindings` and `makeProfile`.
 */
export function compareTwo(
  job: Job,
  before: JobAttempt,
  after: JobAttempt,
  toolVersion: string,
  { healthy = true }: { readonly healthy?: boolean } = {},
): Comparison {
  return compareFindings(before.findings, after.findings, {
    actions: actionsBetween(job, before, after),
    healthy: healthy ? healthyProfile(job, before, after, toolVersion) : null,
    beforeFile: `attempt ${before.attempt.number}`,
    afterFile: `attempt ${after.attempt.number}`,
    toolVersion,
  });
}

/** What was done to parts of the map between two attempts: on its board, where the device has several. Names are held
 *  against each other as the evidence does, whatever their case. */
function actionsBetween(job: Job, before: JobAttempt, after: JobAttempt): ComparedAction[] {
  const refs = new Map(after.board?.regions.map(({ ref }) => [sameName(ref), ref]));
  const name = after.attempt.board?.name ?? "";
  return job.actions.flatMap(({ seq, did, ref, board = name }) => {
    const part = refs.get(sameName(ref ?? ""));
    if (seq < before.seq || seq > after.seq || part === undefined || sameName(board) !== sameName(name))
      return [];
    const what: ActionWord = ACTION_WORDS.find((word) => word === did) ?? "changed";
    return [{ what, ref: part }];
  });
}

function healthyProfile(
  job: Job,
  before: JobAttempt,
  after: JobAttempt,
  toolVersion: string,
): Profile | null {
  const healthy = job.attempts.filter(
    (each) =>
      each.attempt.conditions.healthy &&
      each !== before &&
      each !== after &&
      each.attempt.board?.sha256 === after.attempt.board?.sha256,
  );
  if (healthy.length === 0 || after.attempt.board === null) return null;
  return makeProfile(
    healthy.map(({ findings }) => findings),
    healthy.map((each) => `attempt ${each.attempt.number}`),
    toolVersion,
  );
}
