// import: the text of a table → its rows of cells, with the line and column of each.
import { ToolError } from "../core/errors.js";
import { refuseLarge } from "./finish-import.js";

/** One cell, without its quotes and the blanks around it. */
export interface Cell {
  readonly text: string;
  /** Where it begins in its line, 1-based. */
  readonly column: number;
}

/** One row of a table. */
export interface Row {
  readonly cells: readonly Cell[];
  /** 1-based. */
  readonly line: number;
}

/** What may part the cells of a table; `blanks` is any run of blanks. */
export const TABLE_SEPARATORS = ["\t", ";", ",", "|", "blanks"] as const;
/** What parts the cells of a table. */
export type TableSeparator = (typeof TABLE_SEPARATORS)[number];

/** Split a text into rows of cells. Quotes as in RFC 4180: a doubled quote stands for one, and a quoted cell may hold
 *  separators and line ends. A quote inside an unquoted cell is a letter (3.5" is an inch mark).
 *  @returns rows that hold something; empty lines are left out.
 *  @throws ToolError E_IMPORT_CELL for a quote that never closes, E_IMPORT_LARGE for more cells in a row than a table
 *    of parts has. */
export function splitTable(text: string, separator: TableSeparator, file: string): Row[] {
  const rows: Row[] = [];
  let line = 1;
  let lineStart = 0;
  let at = 0;
  while (at < text.length) {
    const cells: Cell[] = [];
    const row = { line, first: at };
    for (;;) {
      const start = skipBlanks(text, at, separator);
      if (text[start] === '"') {
        const quoted = readQuoted(text, start, file, line, start - lineStart + 1);
        cells.push({ text: quoted.text.trim(), column: start - lineStart + 1 });
        for (let p = start; p < quoted.end; p++) {
          if (text[p] !== "\n") continue;
          line++;
          lineStart = p + 1;
        }
        at = quoted.end;
        // What stands between a closing quote and the next separator belongs to nothing.
        while (at < text.length && !endsCell(text, at, separator)) at++;
      } else {
        at = start;
        while (at < text.length && !endsCell(text, at, separator)) at++;
        cells.push({ text: text.slice(start, at).trim(), column: start - lineStart + 1 });
      }
      refuseLarge("letters", cells[cells.length - 1]!.text.length, file);
      if (separator === "blanks") at = skipBlanks(text, at, separator);
      if (at >= text.length || text[at] === "\n" || text[at] === "\r") break;
      if (separator !== "blanks") at++;
      if (cells.length > 0) refuseLarge("columns", cells.length, file);
    }
    if (cells.some((cell) => cell.text !== "")) {
      rows.push({ cells, line: row.line });
      refuseLarge("parts", rows.length, file);
    }
    if (text[at] === "\r") at++;
    if (text[at] === "\n") at++;
    line++;
    lineStart = at;
  }
  return rows;
}

function endsCell(text: string, at: number, separator: TableSeparator): boolean {
  const letter = text[at]!;
  if (letter === "\n" || letter === "\r") return true;
  return separator === "blanks" ? letter === " " || letter === "\t" : letter === separator;
}

function skipBlanks(text: string, from: number, separator: TableSeparator): number {
  let at = from;
  while (text[at] === " " || (text[at] === "\t" && separator !== "\t")) at++;
  return at;
}

function readQuoted(
  text: string,
  start: number,
  file: string,
  line: number,
  column: number,
): { text: string; end: number } {
  let at = start + 1;
  let read = "";
  for (;;) {
    const quote = text.indexOf('"', at);
    if (quote < 0) {
      throw new ToolError("E_IMPORT_CELL", {
        problem: "a quoted cell never closes",
        fix: "Add the closing quote, or export the table anew",
        place: { file, line, column },
      });
    }
    read += text.slice(at, quote);
    if (text[quote + 1] !== '"') return { text: read, end: quote + 1 };
    read += '"';
    at = quote + 2;
  }
}
