// report: an analysis and a folder → report.html, findings.json, and the picture of each view in it.
import { rm } from "node:fs/promises";
import { join } from "node:path";
import type { Analysis } from "../findings/analysis.js";
import { outputError } from "./output-error.js";
import { renderOverlay } from "./render-overlay.js";
import { type ReportOptions, renderReport } from "./render-report.js";
import { findingsPieces } from "./serialise-findings.js";
import { writeOutputFiles } from "./write-output-files.js";

/** Paths of the files of a report. */
export interface ReportFiles {
  readonly report: string;
  readonly findings: string;
  readonly overlay: string;
  /** Null where there is one view only. */
  readonly otherOverlay: string | null;
}

const OTHER_OVERLAY = "overlay-other.png";

/** Write the files of a report, with `overlay-other.png` where there is a second view; the folder is created, files of
 *  the same name are replaced whole, and an `overlay-other.png` of an earlier run is removed.
 *  All of them or none; the report comes last, so that whoever waits for it finds the others complete.
 *  @throws ToolError E_OUTPUT if the folder or a file can't be written.
 */
export async function writeReportFiles(
  analysis: Analysis,
  folder: string,
  options: ReportOptions = {},
): Promise<ReportFiles> {
  const findingsJson = findingsPieces(analysis.findings);
  const overlayPng = await renderOverlay(analysis);
  const otherOverlayPng = analysis.other ? await renderOverlay(analysis, "other") : undefined;
  const reportHtml = renderReport(analysis, overlayPng, { ...options, otherOverlayPng });
  const files = {
    report: join(folder, "report.html"),
    findings: join(folder, "findings.json"),
    overlay: join(folder, "overlay.png"),
    otherOverlay: otherOverlayPng === undefined ? null : join(folder, OTHER_OVERLAY),
  };
  await writeOutputFiles(folder, [
    ["findings.json", findingsJson],
    ["overlay.png", overlayPng],
    ...(otherOverlayPng === undefined ? [] : [[OTHER_OVERLAY, otherOverlayPng] as const]),
    ["report.html", reportHtml],
  ]);
  if (otherOverlayPng === undefined) await removeOld(join(folder, OTHER_OVERLAY), folder);
  return files;
}

/** The picture of an earlier run's second view would pass for one of this run. */
async function removeOld(path: string, folder: string): Promise<void> {
  try {
    await rm(path, { force: true });
  } catch (error) {
    throw outputError(error, folder);
  }
}
