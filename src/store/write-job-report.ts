// store: a job folder and for whom → its report as HTML and PDF in a folder.
import { join } from "node:path";
import type { AttemptRise, Audience } from "../report/job-report-model.js";
import { makeFolders } from "../report/make-folders.js";
import { outputError } from "../report/output-error.js";
import { renderJobPdf } from "../report/render-job-pdf.js";
import { renderJobReport } from "../report/render-job-report.js";
import { writeFilesAtomic } from "../report/write-files-atomic.js";
import { type GatherOptions, gatherReport } from "./gather-report.js";
import { readJournal } from "./read-journal.js";
import { STORE_DEFAULTS } from "./store-options.js";

/** Folder of the reports in a job's folder, where no other one is given. */
export const REPORT_FOLDER = "report";

/** Names of the files by audience. */
export const REPORT_FILES: Readonly<Record<Audience, string>> = Object.freeze({
  repairer: "job-report",
  customer: "customer-report",
});

/** Paths of a report. */
interface JobReportFiles {
  readonly html: string;
  readonly pdf: string;
}

/** … and what the next report of the job may be spared to compute. */
export interface WrittenReport extends JobReportFiles {
  readonly rises: readonly AttemptRise[];
}

/** Write the report of a job; files of the same name are replaced whole. The same job gives the same bytes.
 *  @param out folder; created if need be. Absent: `report` in the job's folder.
 *  @throws ToolError E_OUTPUT if it can't be written, and those of `gatherReport`.
 */
export async function writeJobReport(
  folder: string,
  audience: Audience,
  options: GatherOptions & { readonly out?: string | undefined },
): Promise<WrittenReport> {
  const out = options.out ?? join(folder, REPORT_FOLDER);
  // First, so that nobody waits for a report that has no place. Where there is no job, no folder is made for it.
  await readJournal(folder, { ...STORE_DEFAULTS, ...options }.storage);
  await wordOutput(out, () => makeFolders(out));
  const model = await gatherReport(folder, options);
  const html = renderJobReport(model, audience);
  const pdf = await renderJobPdf(model, audience);
  const name = REPORT_FILES[audience];
  const files = { html: join(out, `${name}.html`), pdf: join(out, `${name}.pdf`) };
  await wordOutput(out, async () => {
    await writeFilesAtomic([
      [files.pdf, pdf],
      [files.html, html],
    ]);
  });
  return { ...files, rises: model.rises };
}

/** Do something to the folder of the report; what the disk refuses becomes E_OUTPUT. */
async function wordOutput(out: string, work: () => Promise<unknown>): Promise<void> {
  try {
    await work();
  } catch (error) {
    throw outputError(error, out);
  }
}
