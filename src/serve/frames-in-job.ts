// serve: a job folder → which of its attempts have a frame, by its SHA-256.
import { framesOf } from "../store/job-files.js";
import { openJob } from "../store/open-job.js";
import { journalStamp } from "./journal-stamp.js";

const known = new Map<string, { readonly stamp: string; readonly attempts: ReadonlyMap<string, number[]> }>();

/** Numbers of the attempts that have a frame. Read anew when the journal has grown. @throws ToolError those of
 *  `openJob` */
export async function framesInJob(folder: string): Promise<ReadonlyMap<string, readonly number[]>> {
  const stamp = await journalStamp(folder);
  const before = known.get(folder);
  if (before?.stamp === stamp) return before.attempts;
  const job = await openJob(folder);
  const attempts = new Map<string, number[]>();
  for (const { attempt } of job.attempts) {
    for (const sha256 of new Set(framesOf(attempt).map((frame) => frame.sha256)))
      attempts.set(sha256, [...(attempts.get(sha256) ?? []), attempt.number]);
  }
  known.set(folder, { stamp, attempts });
  return attempts;
}
