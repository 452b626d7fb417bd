// import: the text of a table → its rows of cells, with the line and column of each.
import type { ToolError } from "../core/errors.js";

/** One cell, without its quotes and the blanks around it. */
interface Cell {
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

/** What a sort of table adds to its splitting. */
export interface TableRules {
  /** Word the error of a quote that never closes, by its line and column. */
  readonly unclosed: (line: number, column: number) => ToolError;
  /** Told of every count that a hostile file could drive up: letters of a cell, columns of a row, rows. */
  readonly bound?: (what: "letters" | "columns" | "parts", count: number) => void;
}

/** Split a text into rows of cells. Quotes as in RFC 4180: a doubled quote stands for one, and a quoted cell may hold
 *  separators and line ends; what stands between its closing quote and the next separator belongs to it ("10"mm). A
 *  quote inside an unquoted cell is a letter (3.5" is an inch mark).
 *  @returns rows that hold something; empty lines are left out.
 *  @throws ToolError as the rules word it. */
export function splitTable(text: string, separator: TableSeparator, rules: TableRules): Row[] {
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
        const column = start - lineStart + 1;
        const quoted = readQuoted(text, start);
        if (quoted === null) throw rules.unclosed(line, column);
        for (let p = start; p < quoted.end; p++) {
          if (text[p] !== "\n") continue;
          line++;
          lineStart = p + 1;
        }
        at = quoted.end;
        while (at < text.length && !endsCell(text, at, separator)) at++;
        cells.push({ text: (quoted.text + text.slice(quoted.end, at)).trim(), column });
      } else {
        at = start;
        while (at < text.length && !endsCell(text, at, separator)) at++;
        cells.push({ text: text.slice(start, at).trim(), column: start - lineStart + 1 });
      }
      rules.bound?.("letters", cells[cells.length - 1]!.text.length);
      if (separator === "blanks") at = skipBlanks(text, at, separator);
      if (at >= text.length || text[at] === "\n" || text[at] === "\r") break;
      if (separator !== "blanks") at++;
      rules.bound?.("columns", cells.length);
    }
    if (cells.some((cell) => cell.text !== "")) {
      rows.push({ cells, line: row.line });
      rules.bound?.("parts", rows.length);
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

/** The text of a quoted cell and where it ends; null where it never does. */
function readQuoted(text: string, start: number): { text: string; end: number } | null {
  let at = start + 1;
  let read = "";
  for (;;) {
    const quote = text.indexOf('"', at);
    if (quote < 0) return null;
    read += text.slice(at, quote);
    if (text[quote + 1] !== '"') return { text: read, end: quote + 1 };
    read += '"';
    at = quote + 2;
  }
}
