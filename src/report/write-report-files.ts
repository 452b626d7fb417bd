// report: an analysis and a folder → report.html, findings.json and overlay.png in it.
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { ToolError } from "../core/errors.js";
import type { Analysis } from "../findings/analysis.js";
import { renderOverlay } from "./render-overlay.js";
import { type ReportOptions, renderReport } from "./render-report.js";
import { serialiseFindings } from "./serialise-findings.js";
import { writeFileAtomic } from "./write-file-atomic.js";

/** Paths of the files of a report. */
export interface ReportFiles {
  readonly report: string;
  readonly findings: string;
  readonly overlay: string;
}

/** Write the three files of a report; the folder is created, files of the same name are replaced whole.
 *  The report comes last, so that whoever waits for it finds the others complete.
 *  @throws ToolError E_OUTPUT if the folder or a file can't be written.
 */
export async function writeReportFiles(
  analysis: Analysis,
  folder: string,
  options: ReportOptions = {},
): Promise<ReportFiles> {
  const findingsJson = serialiseFindings(analysis.findings);
  const overlayPng = await renderOverlay(analysis);
  const reportHtml = renderReport(analysis, overlayPng, options);
  const files = {
    report: join(folder, "report.html"),
    findings: join(folder, "findings.json"),
    overlay: join(folder, "overlay.png"),
  };
  try {
    await mkdir(folder, { recursive: true });
    await writeFileAtomic(files.findings, findingsJson);
    await writeFileAtomic(files.overlay, overlayPng);
    await writeFileAtomic(files.report, reportHtml);
  } catch (error) {
    const reason = error instanceof Error && "code" in error ? String(error.code) : String(error);
    throw new ToolError("E_OUTPUT", {
      problem: `expected a folder that can be written to, but the system said ${reason}`,
      fix: "Give --out a folder that does not exist yet or that you may write to, on a disk with room",
      place: { file: folder },
    });
  }
  return files;
}
