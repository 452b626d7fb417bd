// store: a job folder → everything that its report tells: evidence, comparisons, and the rise of each attempt on the
// board.
import { ToolError } from "../core/errors.js";
import { weighJob } from "../evidence/weigh-job.js";
import type { Analysis } from "../findings/analysis.js";
import type { JobAttempt } from "../job/job.js";
import type { ReadingFigures } from "../readings/classify-readings.js";
import { boardRise } from "../report/board-rise.js";
import type { AttemptRise, JobReportModel } from "../report/job-report-model.js";
import { analyseKept } from "./analyse-kept.js";
import { compareAttempts } from "./compare-attempts.js";
import { openJob } from "./open-job.js";
import type { StoreOptions } from "./store-options.js";

/** What gathering takes. */
export type GatherOptions = Partial<StoreOptions> & {
  readonly toolVersion: string;
  /** Rises of an earlier report of the same job: attempts never change, so theirs need not be computed again. */
  readonly known?: readonly AttemptRise[] | undefined;
  /** False: readings are told, but not counted in the evidence. */
  readonly useReadings?: boolean;
  /** Tolerances and limits by which readings are judged, in place of the usual ones. */
  readonly readings?: ReadingFigures | undefined;
};

/** Open a job and work out what its report needs: the evidence, each attempt held against the one before it of the same
 *  board, and, from the kept frames, the rise in board millimetres.
 *  @throws ToolError E_JOB_HASH if a frame is not the one that was taken in; those of opening, reading and analysing.
 */
export async function gatherReport(folder: string, options: GatherOptions): Promise<JobReportModel> {
  const job = await openJob(folder, options);
  const rises: AttemptRise[] = [];
  for (const attempt of job.attempts) {
    if (attempt.board === null) continue;
    const known = options.known?.filter((rise) => rise.attempt === attempt.attempt.number) ?? [];
    if (known.length > 0) {
      rises.push(...known);
      continue;
    }
    const analysis = await analyseKept(folder, attempt.attempt, options);
    refuseChangedFrames(attempt, analysis);
    rises.push(...attemptRises(attempt, analysis));
  }
  return {
    job,
    evidence: job.attempts.length + job.readings.length === 0 ? null : weighJob(job, options),
    comparisons: compareAttempts(job, options.toolVersion),
    rises,
    tool: { name: "faultglow", version: options.toolVersion },
  };
}

/** Pictures are drawn from the frames, so the frames have to be those that the findings tell of. */
function refuseChangedFrames({ attempt }: JobAttempt, { findings }: Analysis): void {
  const read = new Set(
    [findings.inputs, ...(findings.otherSide ? [findings.otherSide.inputs] : [])].flatMap(
      ({ baseline, powered }) => [...baseline, ...powered].map(({ sha256 }) => sha256),
    ),
  );
  for (const { baseline, powered } of attempt.views) {
    for (const { sha256, name } of [...baseline, ...powered]) {
      if (read.has(sha256)) continue;
      throw new ToolError("E_JOB_HASH", {
        problem: `expected the frame ${name} of attempt ${attempt.number} with the hash ${sha256}, but it reads otherwise`,
        fix: "Take the frame from a copy or a pack of the job; `faultglow job check` names everything that was changed",
        place: { file: name },
      });
    }
  }
}

function attemptRises({ attempt, board }: JobAttempt, analysis: Analysis): AttemptRise[] {
  const { findings, other } = analysis;
  return [
    { pictures: analysis, thresholdK: findings.threshold.riseK },
    ...(other && findings.otherSide
      ? [{ pictures: other, thresholdK: findings.otherSide.threshold.riseK }]
      : []),
  ].flatMap(({ pictures, thresholdK }, view) => {
    const rise = board === null ? null : boardRise(pictures, board, thresholdK);
    return rise === null ? [] : [{ attempt: attempt.number, view, rise }];
  });
}
