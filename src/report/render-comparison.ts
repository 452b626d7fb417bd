// report: a comparison → comparison.html, one file that needs neither network nor scripts.
import type { Comparison } from "../compare/comparison-schema.js";
import { AID_STATEMENT } from "./cautions.js";
import {
  comparedAttempts,
  comparedHotspots,
  comparedParts,
  comparisonNotes,
  comparisonVerdict,
} from "./comparison-section.js";
import { escapeHtml } from "./escape-html.js";
import { htmlPage } from "./html-page.js";

/** Render a comparison as a whole page. Every string from outside is escaped; a content policy forbids the page to load
 *  or run anything. The same comparison gives the same bytes.
 *  @returns a whole HTML document with a last line end.
 */
export function renderComparison(comparison: Comparison): string {
  const title = `What changed: ${comparison.board ?? "two attempts"}`;
  const { name, version } = comparison.tool;
  return htmlPage({
    title,
    sections: [
      comparisonVerdict(comparison),
      comparedAttempts(comparison),
      comparedParts(comparison),
      comparedHotspots(comparison),
      comparisonNotes(comparison),
      `<p class="quiet">${escapeHtml(AID_STATEMENT)}</p>`,
    ],
    foot: `Made with ${name} ${version}.`,
  });
}
