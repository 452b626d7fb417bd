// store: frames and conditions of a power-on → an attempt of the job, analysed, with all its files.
import type { Note } from "../core/notes.js";
import type { Analysis } from "../findings/analysis.js";
import type { Attempt, AttemptOptions, Conditions } from "../job/attempt-schema.js";
import type { Entry, Said } from "../job/entry-schema.js";
import type { JobAttempt } from "../job/job.js";
import { momentOf } from "../job/moment-of.js";
import { withdrawnSeqs } from "../job/replay-journal.js";
import { asideAttempt, commitAttempt, uncommitAttempt } from "./commit-attempt.js";
import { lockJob } from "./lock-job.js";
import { nextAttemptNumber, type OpenJob, openJob } from "./open-job.js";
import { readJournal } from "./read-journal.js";
import { withStage } from "./stage.js";
import { stageAnalysis, stageAttempt } from "./stage-attempt.js";
import { wordErrors } from "./store-error.js";
import { STORE_DEFAULTS, type StoreOptions } from "./store-options.js";
import { recoverJob, writeJournal } from "./write-journal.js";

/** Frames of a power-on and what is known of it. */
export interface AttemptRequest {
  /** Files, folders or patterns, as for `find`. */
  readonly baseline: readonly string[];
  readonly powered: readonly string[];
  /** File of the view; without it parts can't be named. */
  readonly view?: string | undefined;
  /** In place of `view`: number of an earlier attempt on the same side, by whose baseline and view this one is
   *  placed. */
  readonly viewFrom?: number | undefined;
  /** Name of a board of the job, or file of a map; may be left out where the job has one board. */
  readonly board?: string | undefined;
  /** Another view of the same power-on, or of another one under the same conditions. */
  readonly otherBaseline?: readonly string[] | undefined;
  readonly otherPowered?: readonly string[] | undefined;
  readonly otherView?: string | undefined;
  /** The frames lie in the job's own folder and are never changed, as in the inbox of the page: they need not be
   *  copied. */
  readonly areOwn?: boolean | undefined;
  readonly options?: Partial<AttemptOptions>;
  readonly conditions?: Partial<Conditions>;
  /** ISO 8601 with offset; now, if absent. */
  readonly at?: string | undefined;
}

/** What came of an attempt. */
export interface AddedAttempt {
  readonly attempt: JobAttempt;
  readonly analysis: Analysis;
  /** The job with it. */
  readonly job: OpenJob;
  readonly notes: readonly Note[];
}

/** Add an attempt: copy its frames, analyse them, write its files, and say it in the journal. Copying and analysing are
 *  done beside the job, without the lock; the line in the journal is what makes it part of the job, so that a crash at
 *  any moment leaves the job as it was before or with the whole attempt.
 *  @throws ToolError E_JOB_BOARD, E_JOB_LOCKED, E_JOB_WRITE, and those of opening, reading and analysing.
 */
export async function addAttempt(
  folder: string,
  request: AttemptRequest,
  options: Partial<StoreOptions> = {},
): Promise<AddedAttempt> {
  const o = { ...STORE_DEFAULTS, ...options };
  const { storage } = o;
  return wordErrors(folder, async () => {
    const before = await openJob(folder, o);
    const at = request.at ?? momentOf(o.now());
    return withStage(folder, o, async (stage) => {
      const staged = await stageAttempt(folder, stage, before, request, at, o);
      const job = await lockJob(folder, o, async () => {
        const { journal } = await readJournal(folder, storage);
        await recoverJob(folder, journal, storage);
        const number = nextAttemptNumber(journal.entries);
        await asideAttempt(folder, number, storage);
        const sha256 = await commitAttempt(folder, stage, { ...staged.plan, number }, storage);
        const said: Said[] = [
          ...newBoard(staged.plan.board, journal.entries),
          { type: "attempt", number, sha256 },
        ];
        try {
          await writeJournal(folder, journal, said, at, storage);
        } catch (error) {
          // Where the disk took the line and then refused to take it back, what the line speaks of has to stay.
          const now = await readJournal(folder, storage).catch(() => null);
          if (now?.journal.entries.length === journal.entries.length)
            await uncommitAttempt(folder, stage, number, storage);
          throw error;
        }
        return openJob(folder, o);
      });
      const attempt = job.attempts[job.attempts.length - 1]!;
      return { attempt, analysis: staged.analysis, job, notes: [...staged.notes, ...job.notes] };
    });
  });
}

/** Analyse the frames of an attempt without making it: what comes of it is in `options.memo` when the attempt is made
 *  of the same things. The job stays as it is.
 *  @throws ToolError those of `addAttempt`.
 */
export async function analyseAhead(
  folder: string,
  request: AttemptRequest,
  options: Partial<StoreOptions>,
): Promise<void> {
  const o = { ...STORE_DEFAULTS, ...options };
  await wordErrors(folder, async () => {
    const job = await openJob(folder, o);
    await withStage(folder, o, (stage) => stageAnalysis(folder, stage, job, request, o));
  });
}

/** The line for a map that the job does not have yet. */
function newBoard(board: Attempt["board"], entries: readonly Entry[]): Said[] {
  if (board === null) return [];
  const withdrawn = withdrawnSeqs(entries);
  const known = entries.some(
    ({ seq, said }) => said.type === "board" && said.sha256 === board.sha256 && !withdrawn.has(seq),
  );
  return known ? [] : [{ type: "board", ...board }];
}
