// report: rows of cells → an HTML table with headers that a screen reader can follow.
import { escapeHtml } from "./escape-html.js";

/** A column of a table. */
export interface HtmlColumn {
  readonly title: string;
  /** `number` stands right and does not wrap; `name` and `words` get room to wrap, `hash` breaks anywhere. */
  readonly as?: "number" | "name" | "words" | "hash";
}

/** A cell: plain text, which is escaped, or a list of sentences. */
export type HtmlCell = string | readonly string[];

/** Build a table. The first cell of each row is its header.
 *  @param label what the table holds, for those who do not see it.
 *  @param rows cells of plain text; nothing in them is taken for markup.
 */
export function htmlTable(
  label: string,
  columns: readonly HtmlColumn[],
  rows: readonly (readonly HtmlCell[])[],
): string {
  const head = columns
    .map((column) => `<th scope="col"${cellClass(column)}>${escapeHtml(column.title)}</th>`)
    .join("");
  const body = rows
    .map((row) => {
      const cells = row.map((cell, i) => {
        const column = columns[i] ?? { title: "" };
        if (i === 0) return `<th scope="row"${cellClass(column)}>${cellHtml(cell)}</th>`;
        return `<td${cellClass(column)}>${cellHtml(cell)}</td>`;
      });
      return `<tr>${cells.join("")}</tr>`;
    })
    .join("\n");
  const name = escapeHtml(label);
  return `<div class="scroll" role="region" tabindex="0" aria-label="${name}"><table aria-label="${name}"><thead><tr>${head}</tr></thead>\n<tbody>${body}</tbody></table></div>`;
}

function cellHtml(cell: HtmlCell): string {
  if (typeof cell === "string") return escapeHtml(cell);
  if (cell.length === 0) return "–";
  if (cell.length === 1) return escapeHtml(cell[0] ?? "");
  return `<ul>${cell.map((line) => `<li>${escapeHtml(line)}</li>`).join("")}</ul>`;
}

function cellClass(column: HtmlColumn): string {
  return column.as === undefined ? "" : ` class="${column.as}"`;
}
