// report: a job and for whom → the report as one HTML file.
import { customerDocument } from "./customer-document.js";
import type { Audience, JobReportModel } from "./job-report-model.js";
import { renderDocument } from "./render-document.js";
import { repairerDocument } from "./repairer-document.js";
import type { ReportDocument } from "./report-document.js";

/** Render the report of a job as HTML that needs neither network nor scripts.
 *  Names and remarks are text, never markup. The same job gives the same bytes: nothing in it is of now.
 */
export function renderJobReport(model: JobReportModel, audience: Audience): string {
  return renderDocument(jobDocument(model, audience));
}

/** The report of a job as a document, for page or paper. */
export function jobDocument(model: JobReportModel, audience: Audience): ReportDocument {
  return audience === "customer" ? customerDocument(model) : repairerDocument(model);
}
