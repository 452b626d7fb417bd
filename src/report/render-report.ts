// report: an analysis and its picture → report.html, one file that needs neither network nor scripts.
import type { Analysis } from "../findings/analysis.js";
import { hotspotsSection } from "./hotspots-section.js";
import { htmlPage } from "./html-page.js";
import { otherPictureSection, pictureSection } from "./picture-section.js";
import {
  artefactsSection,
  cautionsSection,
  inputsSection,
  suspectsSection,
  trustSection,
  verdictSection,
} from "./report-sections.js";

/** What a report takes beside the analysis. */
export interface ReportOptions {
  /** Printed under the title, such as a date or a job's name. Nothing is added by itself: same input, same bytes. */
  readonly subtitle?: string | undefined;
  /** The picture of the second view, where there is one; embedded. */
  readonly otherOverlayPng?: Uint8Array | undefined;
}

/** Render the report of an analysis.
 *  Every string from outside is escaped; a content policy forbids the page to load or run anything.
 *  @param overlayPng the picture, as `renderOverlay` makes it; embedded.
 *  @returns a whole HTML document with a last line end.
 */
export function renderReport(
  analysis: Analysis,
  overlayPng: Uint8Array,
  options: ReportOptions = {},
): string {
  const { findings, board } = analysis;
  const subject = board?.name ?? findings.inputs.powered[0]?.file ?? "a board";
  const title = `What heats: ${subject}`;
  const { name, version } = findings.tool;
  return htmlPage({
    title,
    subtitle: options.subtitle,
    sections: [
      verdictSection(analysis),
      pictureSection(analysis, overlayPng),
      options.otherOverlayPng === undefined ? "" : otherPictureSection(analysis, options.otherOverlayPng),
      suspectsSection(analysis),
      hotspotsSection(analysis),
      artefactsSection(analysis),
      trustSection(analysis),
      cautionsSection(),
      inputsSection(analysis),
    ],
    foot: `Made with ${name} ${version}.`,
  });
}
