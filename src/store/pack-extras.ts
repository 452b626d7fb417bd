// store: a job folder → what its pack has beside the job's files: its report, and what lies in the zip.
import { ToolError } from "../core/errors.js";
import type { Attempt } from "../job/attempt-schema.js";
import { renderJobReport } from "../report/render-job-report.js";
import { visibleText } from "../report/visible-text.js";
import { gatherReport } from "./gather-report.js";
import {
  attemptFile,
  attemptName,
  boardName,
  frameName,
  JOB_FILE,
  JOURNAL_FILE,
  PACK_CONTENTS,
  PACK_REPORT,
  viewName,
} from "./job-paths.js";
import { type OpenJob, openJob, readAttempt } from "./open-job.js";
import type { StoreOptions } from "./store-options.js";

/** What lies in a pack beside the job's own files. */
export interface PackExtras {
  readonly files: ReadonlyMap<string, Uint8Array>;
  /** Why there is no report among them; null where there is one. */
  readonly noReport: string | null;
}

/** Make the report of a job and the list of what is in its pack; the same bytes for the same job and version.
 *  A report that can't be made (frames that this version reads otherwise) is left out, and answer and list say why: the
 *  job is what is handed over.
 *  @param names files of the job.
 */
export async function packExtras(
  folder: string,
  names: readonly string[],
  options: StoreOptions,
): Promise<PackExtras> {
  const job = await openJob(folder, options);
  const report = await reportOf(folder, options);
  const attempts = await allAttempts(folder, job, options);
  const files = new Map<string, Uint8Array>();
  const encoder = new TextEncoder();
  const problem = report instanceof ToolError ? report : null;
  const what = describeFiles(job, attempts);
  files.set(PACK_CONTENTS, encoder.encode(contentsText(job, names, what, problem)));
  if (typeof report === "string") files.set(PACK_REPORT, encoder.encode(report));
  return { files, noReport: problem === null ? null : `${problem.parts.problem}. ${problem.parts.fix}.` };
}

async function reportOf(folder: string, options: StoreOptions): Promise<string | ToolError> {
  try {
    return renderJobReport(await gatherReport(folder, options), "repairer");
  } catch (error) {
    if (!(error instanceof ToolError)) throw error;
    return error;
  }
}

/** An attempt of the journal; of a withdrawn one that can't be read, its number is all that is known. */
interface ListedAttempt {
  readonly number: number;
  readonly attempt: Attempt | null;
  readonly isWithdrawn: boolean;
}

async function allAttempts(
  folder: string,
  job: OpenJob,
  { storage }: StoreOptions,
): Promise<ListedAttempt[]> {
  const listed = job.attempts.map(
    ({ attempt }): ListedAttempt => ({ number: attempt.number, attempt, isWithdrawn: false }),
  );
  for (const { seq, said } of job.entries) {
    if (said.type !== "attempt" || !job.withdrawn.has(seq)) continue;
    const { number, sha256 } = said;
    const read = await readAttempt(folder, number, sha256, storage).catch((error) => {
      if (error instanceof ToolError) return null;
      throw error;
    });
    listed.push({ number, attempt: read?.attempt ?? null, isWithdrawn: true });
  }
  return listed;
}

function contentsText(
  job: OpenJob,
  names: readonly string[],
  what: ReadonlyMap<string, string>,
  problem: ToolError | null,
): string {
  const { device, id, createdAt } = job.header;
  const lines = [
    `${device}: a job of faultglow`,
    `Job ${id}, begun ${createdAt}. Seal: ${job.seal}`,
    "",
    problem === null
      ? `Open ${PACK_REPORT} in a browser to read it.`
      : `The report could not be made: ${problem.parts.problem}.`,
    'To go on with the job: "faultglow job unpack ZIP DIR".',
    "",
    ...(problem === null ? [`${PACK_REPORT}: the report of the whole job`] : []),
    ...names.map((name) => `${name}: ${what.get(name) ?? "a file of the job"}`),
  ];
  return `${lines.map(visibleText).join("\n")}\n`;
}

/** What was made of an attempt, by the file's name. */
const MADE_WORDS: Readonly<Record<string, string>> = Object.freeze({
  "findings.json": "findings as JSON",
  "overlay.png": "picture of the findings",
  "overlay-other.png": "picture of the findings on the other side",
  "report.html": "report of the attempt",
});

/** What each file of the job is, by its name; files that several lines speak of say so. */
function describeFiles(job: OpenJob, attempts: readonly ListedAttempt[]): Map<string, string> {
  const what = new Map<string, string[]>();
  const add = (name: string, words: string): void => {
    what.set(name, [...(what.get(name) ?? []), words]);
  };
  add(JOB_FILE, "device, complaint, symptom");
  add(JOURNAL_FILE, "everything that was said, a line each");
  for (const { seq, said } of job.entries) {
    if (said.type !== "board") continue;
    add(boardName(said.sha256), `board map ${said.name}${job.withdrawn.has(seq) ? " (withdrawn)" : ""}`);
  }
  for (const { number, attempt, isWithdrawn } of attempts) {
    const of = `attempt ${number}${isWithdrawn ? " (withdrawn)" : ""}`;
    add(attemptFile(number), `${of}: frames, conditions, options, hashes`);
    if (attempt === null) continue;
    for (const file of Object.keys(attempt.files))
      add(`${attemptName(number)}/${file}`, `${of}: ${MADE_WORDS[file] ?? file}`);
    for (const { baseline, powered, view } of attempt.views) {
      if (view !== null) add(viewName(view.sha256), `${of}, how its ${view.side} side is seen`);
      for (const frame of baseline) add(frameName(frame), `${of}, baseline ${frame.name}`);
      for (const frame of powered) add(frameName(frame), `${of}, powered ${frame.name}`);
    }
    if (attempt.board !== null && !what.has(boardName(attempt.board.sha256)))
      add(boardName(attempt.board.sha256), `board map ${attempt.board.name}`);
  }
  return new Map([...what].map(([name, words]) => [name, [...new Set(words)].join("; ")]));
}
