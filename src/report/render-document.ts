// report: a document → one HTML file that needs neither network nor scripts.

import { escapeHtml } from "./escape-html.js";
import { htmlPage } from "./html-page.js";
import { htmlTable, sentencesHtml } from "./html-table.js";
import { markPlot } from "./mark-shapes.js";
import { plotToSvg } from "./plot-to-svg.js";
import { proseHtml } from "./prose-html.js";
import type { DocumentBlock, DocumentCell, DocumentFigure, ReportDocument } from "./report-document.js";

const DOCUMENT_STYLE = `
.facts { display: grid; grid-template-columns: max-content minmax(0, 1fr); gap: .15rem 1rem; margin: .6rem 0; max-width: 60rem; }
.facts dt { color: var(--quiet); } .facts dd { margin: 0; overflow-wrap: anywhere; }
.plots { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(100%, 19rem), 1fr)); gap: 1rem; margin: .8rem 0; }
.plots.wide { grid-template-columns: minmax(0, 44rem); }
.plots figure { margin: 0; max-width: 100%; }
.plots svg { display: block; width: 100%; height: auto; background: #fff; border: 1px solid var(--line);
  font-family: system-ui, "Segoe UI", "Noto Sans", "DejaVu Sans", sans-serif; }
.plots b { display: block; overflow-wrap: anywhere; }
tbody th { min-width: 6rem; }
h3 { margin: 1.4rem 0 .3rem; font-size: 1rem; }
td.whole, th.whole { white-space: nowrap; }
.mark { display: inline-flex; gap: .35rem; align-items: center; white-space: nowrap; }
.mark svg { width: .8em; height: .8em; flex: none; }
@media screen and (prefers-color-scheme: dark) { .mark svg { filter: invert(1); } }
.strong { font-weight: 600; }
@media (max-width: 30rem) { .facts { grid-template-columns: minmax(0, 1fr); gap: 0; } .facts dd { margin-bottom: .4rem; } }
@media screen and (min-width: 110rem) { html { font-size: 125%; } }
@media screen and (min-width: 200rem) { html { font-size: 175%; } }
@media print { figcaption { font-size: 8pt; } .plots { grid-template-columns: repeat(3, minmax(0, 1fr)); gap: .6rem; } .plots.wide { grid-template-columns: minmax(0, 120mm); } .plots figure { break-inside: avoid; } h3 { break-after: avoid; } .plots svg { border: 0; } }
`;

/** Render a document as HTML.
 *  Every string is escaped; a content policy forbids the page to load or run anything.
 *  @returns a whole HTML document with a last line end.
 */
export function renderDocument(document: ReportDocument): string {
  const ids = { count: 0 };
  return htmlPage({
    title: document.title,
    subtitle: document.subtitle,
    style: DOCUMENT_STYLE,
    sections: document.blocks.map((block) => blockHtml(block, ids)),
    foot: document.foot,
  });
}

function blockHtml(block: DocumentBlock, ids: { count: number }): string {
  switch (block.kind) {
    case "heading":
      return `<h${block.level}>${proseHtml(block.text)}</h${block.level}>`;
    case "paragraph":
      return `<p${block.tone === undefined ? "" : ` class="${block.tone}"`}>${proseHtml(block.text)}</p>`;
    case "next":
      return `<p class="next"><b>${escapeHtml(block.label)}:</b> ${proseHtml(block.text)}</p>`;
    case "list":
      return `<ul class="cautions">${block.items.map((item) => `<li>${proseHtml(item)}</li>`).join("")}</ul>`;
    case "facts":
      return `<dl class="facts" aria-label="${escapeHtml(block.label)}">${block.rows
        .map(([name, text]) => `<dt>${escapeHtml(name)}</dt><dd>${proseHtml(text)}</dd>`)
        .join("")}</dl>`;
    case "table":
      return htmlTable(block.label, block.columns, block.rows, cellHtml);
    case "plots":
      return `<div class="plots${isWide(block.figures) ? " wide" : ""}" role="group" aria-label="${escapeHtml(block.label)}">${block.figures
        .map((figure) => figureHtml(figure, ids))
        .join("")}</div>`;
  }
}

/** A single plot wider than this does not share its row. */
const WIDE_PT = 260;
/** … and is this much larger on the screen than on paper. */
const PT_PER_REM = 10;

function isWide(figures: readonly DocumentFigure[]): boolean {
  return figures.length === 1 && (figures[0]?.plot.width ?? 0) > WIDE_PT;
}

function figureHtml({ plot, title, lines }: DocumentFigure, ids: { count: number }): string {
  ids.count++;
  const caption = lines.map((line) => `<div>${proseHtml(line)}</div>`).join("");
  const head = title === "" ? "" : `<b>${escapeHtml(title)}</b>`;
  return `<figure${isWide([{ plot, title, lines }]) ? ` style="max-width: ${Math.round(plot.width / PT_PER_REM)}rem"` : ""}>${head}${plotToSvg(plot, `p${ids.count}`)}${caption === "" ? "" : `<figcaption>${caption}</figcaption>`}</figure>`;
}

function cellHtml(cell: DocumentCell): string {
  if (typeof cell === "string") return proseHtml(cell);
  if ("mark" in cell) {
    const shape = plotToSvg(markPlot(cell.mark), "m").replace(
      'role="img" aria-label=""',
      'aria-hidden="true"',
    );
    return `<span class="mark">${shape}${escapeHtml(cell.text)}</span>`;
  }
  return sentencesHtml(cell);
}
