// report: title, sections and a foot → a whole page that needs neither network nor scripts.
import { escapeHtml } from "./escape-html.js";
import { REPORT_STYLE } from "./report-style.js";

/** What a page is made of. */
export interface PageParts {
  readonly title: string;
  /** Under the title; absent: nothing. */
  readonly subtitle?: string | undefined;
  /** Styles beyond those of all reports. */
  readonly style?: string;
  /** HTML of the sections, each escaped already; empty ones are left out. */
  readonly sections: readonly string[];
  readonly foot: string;
}

/** Lay out a page. Title, subtitle and foot are escaped here; a content policy forbids the page to load or run
 *  anything.
 *  @returns a whole HTML document with a last line end.
 */
export function htmlPage({ title, subtitle, style = "", sections, foot }: PageParts): string {
  const under = subtitle === undefined ? "" : `<p class="quiet">${escapeHtml(subtitle)}</p>`;
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeHtml(title)}</title>
<style>${REPORT_STYLE}${style}</style>
</head>
<body>
<header><h1>${escapeHtml(title)}</h1>${under}</header>
<main>
${sections.filter((section) => section !== "").join("\n")}
</main>
<footer><p>${escapeHtml(foot)}</p></footer>
</body>
</html>
`;
}
