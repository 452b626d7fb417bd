// report: a job and for whom → the report as the bytes of a PDF.
import { documentToPdf } from "./document-to-pdf.js";
import type { Audience, JobReportModel } from "./job-report-model.js";
import { jobDocument } from "./render-job-report.js";

/** Render the report of a job as PDF of A4 pages, with its fonts in it and no browser needed.
 *  The same job gives the same bytes, with the same version of Node (its compression may change).
 */
export function renderJobPdf(model: JobReportModel, audience: Audience): Promise<Uint8Array> {
  return documentToPdf(jobDocument(model, audience));
}
