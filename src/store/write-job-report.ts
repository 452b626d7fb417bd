// store: a job folder and for whom → its report as HTML and PDF in a folder.
import { join } from "node:path";
import { ToolError } from "../core/errors.js";
import type { AttemptRise, Audience } from "../report/job-report-model.js";
import { makeFolders } from "../report/make-folders.js";
import { renderJobPdf } from "../report/render-job-pdf.js";
import { renderJobReport } from "../report/render-job-report.js";
import { writeFileAtomic } from "../report/write-file-atomic.js";
import { type GatherOptions, gatherReport } from "./gather-report.js";

/** Folder of the reports in a job's folder, where no other one is given. */
export const REPORT_FOLDER = "report";

/** Names of the files by audience. */
export const REPORT_FILES: Readonly<Record<Audience, string>> = Object.freeze({
  repairer: "job-report",
  customer: "customer-report",
});

/** Paths of a report. */
export interface JobReportFiles {
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
  // First, so that nobody waits for a report that has no place.
  await wordOutput(out, () => makeFolders(out));
  const model = await gatherReport(folder, options);
  const html = renderJobReport(model, audience);
  const pdf = await renderJobPdf(model, audience);
  const name = REPORT_FILES[audience];
  const files = { html: join(out, `${name}.html`), pdf: join(out, `${name}.pdf`) };
  await wordOutput(out, async () => {
    await writeFileAtomic(files.pdf, pdf);
    await writeFileAtomic(files.html, html);
  });
  return { ...files, rises: model.rises };
}

/** Do something to the folder of the report; what the disk refuses becomes E_OUTPUT. */
async function wordOutput(out: string, work: () => Promise<unknown>): Promise<void> {
  try {
    await work();
  } catch (error) {
    const reason = error instanceof Error && "code" in error ? String(error.code) : String(error);
    throw new ToolError("E_OUTPUT", {
      problem: `expected a folder that can be written to, but the system said ${reason}`,
      fix: "Give --out a folder that does not exist yet or that you may write to, on a disk with room",
      place: { file: out },
    });
  }
}
