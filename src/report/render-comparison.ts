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
import { REPORT_STYLE } from "./report-style.js";

/** Render a comparison as a whole page. Every string from outside is escaped; a content policy forbids the page to load or
 *  run anything. The same comparison gives the same bytes.
 *  @returns a whole HTML document with a last line end.
 */
export function renderComparison(comparison: Comparison): string {
  const title = `What changed: ${comparison.board ?? "two attempts"}`;
  const { name, version } = comparison.tool;
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeHtml(title)}</title>
<style>${REPORT_STYLE}</style>
</head>
<body>
<header><h1>${escapeHtml(title)}</h1></header>
<main>
${[
  comparisonVerdict(comparison),
  comparedAttempts(comparison),
  comparedParts(comparison),
  comparedHotspots(comparison),
  comparisonNotes(comparison),
  `<p class="quiet">${escapeHtml(AID_STATEMENT)}</p>`,
]
  .filter((section) => section !== "")
  .join("\n")}
</main>
<footer><p>Made with ${escapeHtml(name)} ${escapeHtml(version)}.</p></footer>
</body>
</html>
`;
}
