// serve: a job folder → all that the page shows of the job.
import type { JobState } from "../api/jobs-schema.js";
import { weighJob } from "../evidence/weigh-job.js";
import { compareAttempts } from "../store/compare-attempts.js";
import { openJob } from "../store/open-job.js";
import type { Bench } from "./bench-context.js";
import { listDrafts } from "./draft-files.js";

/** Evidence and comparisons follow from the job alone, and the seal vouches for all of it. */
const worked = new Map<string, Pick<JobState, "seal" | "evidence" | "comparisons">>();

/** Read a job, weigh it, and compare its attempts. @throws ToolError those of `openJob` */
export async function jobState(id: string, bench: Bench): Promise<JobState> {
  const folder = await bench.jobs.folderOf(id);
  const { withdrawn, ...job } = await openJob(folder);
  let known = worked.get(id);
  if (known?.seal !== job.seal) {
    const whole = { ...job, withdrawn };
    const { toolVersion } = bench;
    known = {
      seal: job.seal,
      evidence: job.attempts.length + job.readings.length === 0 ? null : weighJob(whole, { toolVersion }),
      comparisons: compareAttempts(whole, toolVersion).map((one) => ({ ...one })),
    };
    worked.set(id, known);
  }
  const state = {
    ...job,
    ...known,
    id,
    folder: bench.jobs.nameOf(folder),
    withdrawn: [...withdrawn],
    inbox: await bench.inbox.list(id, folder),
    drafts: await listDrafts(folder),
    tasks: bench.tasks.of(id),
    watch: bench.watches.of(id),
  };
  // What the store calls read-only the answer's type does not; nothing is changed on the way.
  return state as unknown as JobState;
}
