// report: an analysis and a folder → report.html, findings.json, and the picture of each view in it.
import { rm } from "node:fs/promises";
import { join } from "node:path";
import type { Analysis } from "../findings/analysis.js";
import { makeFolders } from "./make-folders.js";
import { outputError } from "./output-error.js";
import { renderOverlay } from "./render-overlay.js";
import { type ReportOptions, renderReport } from "./render-report.js";
import { serialiseFindings } from "./serialise-findings.js";
import { writeFilesAtomic } from "./write-files-atomic.js";

/** Paths of the files of a report. */
export interface ReportFiles {
  readonly report: string;
  readonly findings: string;
  readonly overlay: string;
  /** Null where there is one view only. */
  readonly otherOverlay: string | null;
}

const OTHER_OVERLAY = "overlay-other.png";

/** Write the files of a report, with `overlay-other.png` where there is a second view; the folder is created, files of the
 *  same name are replaced whole, and an `overlay-other.png` of an earlier run is removed.
 *  All of them or none; the report comes last, so that whoever waits for it finds the others complete.
 *  @throws ToolError E_OUTPUT if the folder or a file can't be written.
 */
export async function writeReportFiles(
  analysis: Analysis,
  folder: string,
  options: ReportOptions = {},
): Promise<ReportFiles> {
  const findingsJson = serialiseFindings(analysis.findings);
  const overlayPng = await renderOverlay(analysis);
  const otherOverlayPng = analysis.other ? await renderOverlay(analysis, "other") : undefined;
  const reportHtml = renderReport(analysis, overlayPng, { ...options, otherOverlayPng });
  const files = {
    report: join(folder, "report.html"),
    findings: join(folder, "findings.json"),
    overlay: join(folder, "overlay.png"),
    otherOverlay: otherOverlayPng === undefined ? null : join(folder, OTHER_OVERLAY),
  };
  try {
    await makeFolders(folder);
    await writeFilesAtomic([
      [files.findings, findingsJson],
      [files.overlay, overlayPng],
      ...(files.otherOverlay === null ? [] : [[files.otherOverlay, otherOverlayPng!] as const]),
      [files.report, reportHtml],
    ]);
    // The picture of an earlier run's second view would pass for one of this run.
    if (files.otherOverlay === null) await rm(join(folder, OTHER_OVERLAY), { force: true });
  } catch (error) {
    throw outputError(error, folder);
  }
  return files;
}
