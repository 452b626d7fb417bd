// report: columns and rows → a table on the pages of a PDF, its head above every part of it.
import { bindUnits } from "./bind-units.js";
import { columnWidths } from "./column-widths.js";
import { MARK_SIZE, markPlot } from "./mark-shapes.js";
import { BOTTOM, LINE, MARGIN, type PdfFlow, TEXT_WIDTH, TYPES } from "./pdf-flow.js";
import { PAGE, type TextStyle } from "./pdf-sheet.js";
import { PLOT_COLOURS } from "./plot.js";
import type { DocumentCell, DocumentColumn, MarkShape } from "./report-document.js";

const GAP = 9;
const PAD = 3;
const MARK_INDENT = MARK_SIZE + 4;
const BULLET_INDENT = 8;
/** A row up to this share of the page is kept on one page. */
const KEPT_SHARE = 0.25;
/** No word may ask for more than this share of the table: longer ones are broken. */
const LEAST_SHARE = 0.24;

/** A cell that is broken into lines. */
interface LaidCell {
  readonly lines: readonly { readonly text: string; readonly indent: number; readonly bullet: boolean }[];
  readonly mark: MarkShape | null;
}

interface Layout {
  readonly columns: readonly DocumentColumn[];
  readonly widths: readonly number[];
  readonly styles: readonly TextStyle[];
  readonly head: readonly LaidCell[];
}

/** A table whose cells are broken into lines. */
interface LaidTable {
  readonly layout: Layout;
  readonly rows: readonly (readonly LaidCell[])[];
  /** Height that it does not begin without: its head, and the first row as far as it is kept together. */
  readonly beginHeight: number;
}

/** Break the cells of a table into lines. */
export function layTable(
  flow: PdfFlow,
  columns: readonly DocumentColumn[],
  rows: readonly (readonly DocumentCell[])[],
): LaidTable {
  const widths = shareWidth(flow, columns, rows);
  const layout: Layout = {
    columns,
    widths,
    styles: columns.map((column, i) => cellStyle(column, i === 0)),
    head: columns.map(({ title }, i) => layCell(flow, title, widths[i]!, TYPES.cellBold)),
  };
  const laid = rows.map((row) =>
    columns.map((_, i) => layCell(flow, row[i] ?? "", widths[i]!, layout.styles[i]!)),
  );
  const first = Math.min(KEPT_SHARE * PAGE.height, rowHeight(laid[0] ?? []));
  return { layout, rows: laid, beginHeight: rowHeight(layout.head) + first };
}

/** Paint a table. Cells are broken into lines, never cut; a row that is longer than a page goes on on the next one. */
export function paintTable(
  flow: PdfFlow,
  columns: readonly DocumentColumn[],
  rows: readonly (readonly DocumentCell[])[],
): void {
  const { layout, rows: laid, beginHeight } = layTable(flow, columns, rows);
  flow.room(beginHeight);
  paintHead(flow, layout);
  for (const row of laid) {
    paintRow(flow, row, layout);
    flow.sheet.rule(MARGIN.left, flow.y - 1, TEXT_WIDTH, PLOT_COLOURS.faint, 0.5);
  }
  flow.y += 6;
}

function shareWidth(
  flow: PdfFlow,
  columns: readonly DocumentColumn[],
  rows: readonly (readonly DocumentCell[])[],
): number[] {
  const total = TEXT_WIDTH - GAP * (columns.length - 1);
  const wide = (text: string, style: TextStyle): number => flow.sheet.widthOf(flow.clean(text), style);
  // A number and its unit are one word, as in the lines that `flow` breaks.
  const wordsOf = (text: string): string[] => bindUnits(text).split(" ");
  const wishes = columns.map((column, i) => {
    const style = cellStyle(column, i === 0);
    const cells = rows.map((row) => row[i] ?? "");
    const texts = cells.flatMap(cellTexts);
    // Widths are sums of many parts: a hair more, so that rounding breaks no line.
    const extra = Math.max(0, ...cells.map(indentOf)) + 0.5;
    const whole = column.as === "number" || column.as === "whole" || column.as === "hash";
    const words = texts.flatMap((text) => (whole ? [text] : wordsOf(text)));
    const longest = Math.max(0, ...words.map((word) => wide(word, style)));
    const least = Math.max(
      ...column.title.split(" ").map((word) => wide(word, TYPES.cellBold)),
      whole ? longest : Math.min(longest, LEAST_SHARE * total),
    );
    const most = Math.max(
      least,
      wide(column.title, TYPES.cellBold),
      ...texts.map((text) => wide(text, style)),
    );
    const amounts = cells.map((cell) => cellTexts(cell).reduce((sum, text) => sum + wide(text, style), 0));
    return { least: least + extra, most: most + extra, text: Math.max(0, ...amounts) };
  });
  return columnWidths(wishes, total);
}

function layCell(flow: PdfFlow, cell: DocumentCell, width: number, style: TextStyle): LaidCell {
  const indent = indentOf(cell);
  const lay = (text: string, bullet: boolean): LaidCell["lines"] =>
    flow
      .wrap(text, width - indent, style)
      .map((line, k) => ({ text: line, indent, bullet: bullet && k === 0 }));
  if (typeof cell === "string") return { lines: lay(cell, false), mark: null };
  if ("mark" in cell) return { lines: lay(cell.text, false), mark: cell.mark };
  if (cell.length < 2) return { lines: lay(cell[0] ?? "–", false), mark: null };
  return { lines: cell.flatMap((sentence) => lay(sentence, true)), mark: null };
}

function paintHead(flow: PdfFlow, layout: Layout): void {
  const styles = layout.columns.map(() => TYPES.cellBold);
  paintLines(flow, layout.head, { ...layout, styles }, () => {});
  flow.sheet.rule(MARGIN.left, flow.y - 1, TEXT_WIDTH, PLOT_COLOURS.quiet, 0.9);
}

function paintRow(flow: PdfFlow, cells: readonly LaidCell[], layout: Layout): void {
  const turn = (): void => {
    flow.newPage();
    paintHead(flow, layout);
  };
  const height = rowHeight(cells);
  if (flow.y + height > BOTTOM && height <= KEPT_SHARE * PAGE.height) turn();
  paintLines(flow, cells, layout, turn);
}

/** @param turn begins the next page. */
function paintLines(flow: PdfFlow, cells: readonly LaidCell[], layout: Layout, turn: () => void): void {
  const step = TYPES.cell.size * LINE;
  flow.y += PAD;
  for (let k = 0; k < lineCount(cells); k++) {
    if (flow.y + step > BOTTOM) {
      turn();
      flow.y += PAD;
    }
    let x = MARGIN.left;
    cells.forEach((cell, i) => {
      paintLine(flow, cell, k, x, layout.widths[i]!, layout.styles[i]!, layout.columns[i]?.as === "number");
      x += layout.widths[i]! + GAP;
    });
    flow.y += step;
  }
  flow.y += PAD;
}

function paintLine(
  { sheet, y: top }: PdfFlow,
  { lines, mark }: LaidCell,
  k: number,
  x: number,
  width: number,
  style: TextStyle,
  right: boolean,
): void {
  const line = lines[k];
  if (line === undefined) return;
  const y = top + TYPES.cell.size;
  if (line.bullet) sheet.text("•", x, y, style);
  if (k === 0 && mark !== null) sheet.plot(markPlot(mark), x, y - MARK_SIZE + 1);
  if (right) sheet.text(line.text, x + width, y, style, "end");
  else sheet.text(line.text, x + line.indent, y, style);
}

function rowHeight(cells: readonly LaidCell[]): number {
  return lineCount(cells) * TYPES.cell.size * LINE + 2 * PAD;
}

function lineCount(cells: readonly LaidCell[]): number {
  return Math.max(0, ...cells.map(({ lines }) => lines.length));
}

function cellStyle(column: DocumentColumn, first: boolean): TextStyle {
  if (column.as === "hash") return TYPES.hash;
  return first ? TYPES.cellBold : TYPES.cell;
}

function cellTexts(cell: DocumentCell): readonly string[] {
  if (typeof cell === "string") return [cell];
  return "mark" in cell ? [cell.text] : cell;
}

function indentOf(cell: DocumentCell): number {
  if (typeof cell === "string") return 0;
  if ("mark" in cell) return MARK_INDENT;
  return cell.length > 1 ? BULLET_INDENT : 0;
}
