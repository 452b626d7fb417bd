// report: rows of cells → an HTML table with headers that a screen reader can follow.
import { escapeHtml } from "./escape-html.js";
import { proseHtml } from "./prose-html.js";

/** A column of a table. */
export interface HtmlColumn {
  readonly title: string;
  /** `number` stands right and does not wrap, `whole` left and does not wrap; `name` and `words` get room to wrap,
   *  `hash` breaks anywhere. */
  readonly as?: "number" | "whole" | "name" | "words" | "hash";
}

/** Build a table. The first cell of each row is its header.
 *  Each cell carries its column's title too: where a narrow page lays rows below each other it is shown above the cell.
 *  @param label what the table holds, for those who do not see it.
 *  @param rows cells of plain text, or of whatever `cellHtml` takes; nothing in them is taken for markup.
 *  @param cellHtml writes a cell, escaped; by default a text, or sentences as a list (`sentencesHtml`).
 */
export function htmlTable<Cell = string | readonly string[]>(
  label: string,
  columns: readonly HtmlColumn[],
  rows: readonly (readonly Cell[])[],
  cellHtml: (cell: Cell) => string = (cell) => plainCell(cell as string | readonly string[]),
): string {
  const head = columns
    .map((column) => `<th scope="col"${cellClass(column)}>${escapeHtml(column.title)}</th>`)
    .join("");
  const body = rows
    .map((row) => {
      const cells = row.map((cell, i) => {
        const title = columns[i]?.title ?? "";
        const style = `${cellClass(columns[i])}${title === "" ? "" : ` data-of="${escapeHtml(title)}"`}`;
        if (i === 0) return `<th scope="row"${style}>${cellHtml(cell)}</th>`;
        return `<td${style}>${cellHtml(cell)}</td>`;
      });
      return `<tr>${cells.join("")}</tr>`;
    })
    .join("\n");
  const name = escapeHtml(label);
  return `<div class="scroll" role="region" tabindex="0" aria-label="${name}"><table aria-label="${name}"><thead><tr>${head}</tr></thead>\n<tbody>${body}</tbody></table></div>`;
}

/** Sentences of a cell: a list where there are several, a dash where there is none. */
export function sentencesHtml(sentences: readonly string[]): string {
  const [first] = sentences;
  if (first === undefined) return "–";
  if (sentences.length === 1) return proseHtml(first);
  return `<ul>${sentences.map((line) => `<li>${proseHtml(line)}</li>`).join("")}</ul>`;
}

function plainCell(cell: string | readonly string[]): string {
  return typeof cell === "string" ? proseHtml(cell) : sentencesHtml(cell);
}

function cellClass(column: HtmlColumn | undefined): string {
  return column?.as === undefined ? "" : ` class="${column.as}"`;
}
