// store: a job → the files that a pack has beside those of the job: its report, and what lies in the zip.
import { ToolError } from "../core/errors.js";
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
import { type OpenJob, openJob } from "./open-job.js";
import type { StoreOptions } from "./store-options.js";

/** Make the report of a job and the list of what is in its pack; the same bytes for the same job and version.
 *  A report that can't be made (frames that this version reads otherwise) is left out, and the list says why: the job is what is
 *  handed over.
 *  @param names files of the job.
 */
export async function packExtras(
  folder: string,
  names: readonly string[],
  options: StoreOptions,
): Promise<Map<string, Uint8Array>> {
  const job = await openJob(folder, options);
  const report = await reportOf(folder, options);
  const files = new Map<string, Uint8Array>();
  const encoder = new TextEncoder();
  files.set(PACK_CONTENTS, encoder.encode(contentsText(job, names, report.problem)));
  if (report.html !== null) files.set(PACK_REPORT, encoder.encode(report.html));
  return files;
}

async function reportOf(
  folder: string,
  options: StoreOptions,
): Promise<{ html: string | null; problem: string | null }> {
  try {
    return { html: renderJobReport(await gatherReport(folder, options), "repairer"), problem: null };
  } catch (error) {
    if (!(error instanceof ToolError)) throw error;
    return { html: null, problem: error.message };
  }
}

function contentsText(job: OpenJob, names: readonly string[], problem: string | null): string {
  const what = describeFiles(job);
  const { device, id, createdAt } = job.header;
  const lines = [
    `${device}: a job of faultglow`,
    `Job ${id}, begun ${createdAt}. Seal: ${job.seal}`,
    "",
    problem === null
      ? `Open ${PACK_REPORT} in a browser to read it.`
      : `The report could not be made: ${problem}`,
    'To go on with the job: "faultglow job unpack ZIP DIR".',
    "",
    ...(problem === null ? [`${PACK_REPORT}: the report of the whole job`] : []),
    ...names.map((name) => `${name}: ${what.get(name) ?? "of an attempt or a map that was withdrawn"}`),
  ];
  return `${lines.map(visibleText).join("\n")}\n`;
}

/** What each file of the job is, by its name; files of withdrawn lines are not among them. */
function describeFiles(job: OpenJob): Map<string, string> {
  const what = new Map<string, string[]>();
  const add = (name: string, words: string): void => {
    what.set(name, [...(what.get(name) ?? []), words]);
  };
  add(JOB_FILE, "device, complaint, symptom");
  add(JOURNAL_FILE, "everything that was said, a line each");
  for (const { name, sha256 } of job.boards) add(boardName(sha256), `board map ${name}`);
  for (const { attempt } of job.attempts) {
    const of = `attempt ${attempt.number}`;
    add(attemptFile(attempt.number), `${of}: frames, conditions, options, hashes`);
    for (const name of Object.keys(attempt.files)) add(`${attemptName(attempt.number)}/${name}`, of);
    for (const { baseline, powered, view } of attempt.views) {
      if (view !== null) add(viewName(view.sha256), `${of}, how its ${view.side} side is seen`);
      for (const frame of baseline) add(frameName(frame), `${of}, baseline ${frame.name}`);
      for (const frame of powered) add(frameName(frame), `${of}, powered ${frame.name}`);
    }
    if (attempt.board !== null && !what.has(boardName(attempt.board.sha256)))
      add(boardName(attempt.board.sha256), `board map ${attempt.board.name}`);
  }
  return new Map([...what].map(([name, words]) => [name, words.join("; ")]));
}
