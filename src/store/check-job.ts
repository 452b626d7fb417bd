// store: a job folder → everything that is wrong with it: hashes, forms, references, and findings computed again.
import { type ErrorCode, ToolError } from "../core/errors.js";
import type { Entry } from "../job/entry-schema.js";
import { withdrawnSeqs } from "../job/replay-journal.js";
import { unknownNames } from "../job/unknown-names.js";
import { type AttemptCheck, checkAttempt } from "./check-attempt.js";
import type { CheckProblem } from "./check-problem.js";
import { findStrays } from "./find-strays.js";
import { openText } from "./open-job.js";
import { type JobText, readJournal } from "./read-journal.js";
import type { Storage } from "./storage.js";
import { wordErrors } from "./store-error.js";
import { STORE_DEFAULTS, type StoreOptions } from "./store-options.js";

/** What a check found. */
export interface JobCheck {
  /** False if there is an error: the job does not prove what it says. */
  readonly sound: boolean;
  readonly problems: readonly CheckProblem[];
  readonly attempts: readonly AttemptCheck[];
  /** Hash of the last line: whoever wrote it down earlier can tell whether lines are missing at the end. Null if the
   *  journal can't be read. */
  readonly seal: string | null;
}

/** Check a job. Damage to one attempt does not keep the others from being checked.
 *  @param options.recompute compute the findings again; true unless said otherwise.
 *  @throws ToolError E_JOB_NONE if there is no job at all, E_JOB_WRITE if the disk can't be read.
 */
export async function checkJob(
  folder: string,
  options: Partial<StoreOptions> & { readonly recompute?: boolean } = {},
): Promise<JobCheck> {
  const { recompute = true, ...rest } = options;
  const o = { ...STORE_DEFAULTS, ...rest };
  return wordErrors(folder, async () => {
    const problems: CheckProblem[] = [];
    const text = await collect(problems, null, () => readJournal(folder, o.storage), "E_JOB_NONE");
    if (text === null) return { sound: false, problems, attempts: [], seal: null };
    const attempts: AttemptCheck[] = [];
    for (const { said } of text.journal.entries) {
      if (said.type !== "attempt") continue;
      const work = () => checkAttempt(folder, said.number, said.sha256, { ...o, recompute });
      const checked = await collect(problems, said.number, work);
      const { problems: found, ...attempt } = checked ?? {
        number: said.number,
        findings: "not-checked" as const,
        toolVersion: null,
        problems: [],
      };
      attempts.push(attempt);
      problems.push(...found);
    }
    await checkWhole(folder, text, problems, o.storage);
    problems.push(...(await findStrays(folder, text.journal.entries, problems.length === 0, o.storage)));
    return {
      sound: problems.every(({ severity }) => severity !== "error"),
      problems,
      attempts,
      seal: text.journal.seal,
    };
  });
}

/** What opening alone would have said, and names that nothing has. */
async function checkWhole(
  folder: string,
  text: JobText,
  problems: CheckProblem[],
  storage: Storage,
): Promise<void> {
  checkWithdrawals(text.journal.entries, problems);
  const heard = problems.some(({ severity }) => severity === "error");
  // Opening stops at the first error, which the attempts above may have told already.
  const found: CheckProblem[] = [];
  const job = await collect(found, null, () => openText(folder, text, storage));
  if (!heard) problems.push(...found);
  if (job === null) return;
  for (const { code, severity, text: words } of [...job.notes, ...unknownNames(job)]) {
    problems.push({ severity, code, attempt: null, text: words });
  }
}

function checkWithdrawals(entries: readonly Entry[], problems: CheckProblem[]): void {
  const known = withdrawnSeqs(entries);
  for (const { seq, said } of entries) {
    if (said.type !== "withdrawal" || known.has(said.seq)) continue;
    problems.push({
      severity: "error",
      code: "E_JOB_JOURNAL",
      attempt: null,
      text: `line ${seq} of the journal withdraws line ${said.seq}, which does not stand before it`,
    });
  }
}

/** Do something; an error of ours becomes a problem.
 *  @param passed code of an error that is thrown on.
 *  @returns null if there was one. */
async function collect<Out>(
  problems: CheckProblem[],
  attempt: number | null,
  work: () => Promise<Out>,
  passed?: ErrorCode,
): Promise<Out | null> {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof ToolError) || error.code === passed) throw error;
    problems.push({ severity: "error", code: error.code, attempt, text: error.message });
    return null;
  }
}
