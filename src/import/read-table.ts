// import: the text of a centroid table → its rows and heads under the separator that fits, and how numbers are written.
import { ToolError } from "../core/errors.js";
import { findColumns, lengthUnitOf, type TableHead } from "./find-columns.js";
import { refuseLarge } from "./finish-import.js";
import type { LengthUnit } from "./import-options.js";
import { type Row, splitTable, TABLE_SEPARATORS, type TableRules } from "./split-table.js";

/** A table that was understood as far as its heads. */
export interface CentroidTable {
  readonly head: TableHead;
  /** The rows below the heads. */
  readonly rows: readonly Row[];
  /** A unit that a line above the heads states; null where none does. */
  readonly unit: LengthUnit | null;
}

/** Read a table of parts. Each separator is tried; the one under which most columns are known wins, and between equals
 *  the first of TAB, semicolon, comma, bar and blanks.
 *  @throws ToolError E_IMPORT_HEADER if no line names ref, x and y under any of them. */
export function readTable(text: string, file: string): CentroidTable {
  const rules: TableRules = {
    unclosed: (line, column) =>
      new ToolError("E_IMPORT_CELL", {
        problem: "a quoted cell never closes",
        fix: "Add the closing quote, or export the table anew",
        place: { file, line, column },
      }),
    bound: (what, count) => refuseLarge(what, count, file),
  };
  let best: CentroidTable | null = null;
  let failed: unknown = null;
  for (const separator of TABLE_SEPARATORS) {
    if (separator !== "blanks" && !text.includes(separator)) continue;
    let rows: Row[];
    try {
      rows = splitTable(text, separator, rules);
    } catch (error) {
      // An inch mark in a cell can look like a quote under a separator that is not that of the table.
      failed ??= error;
      continue;
    }
    // A lone # before the heads is no head of its own.
    if (separator === "blanks") {
      rows = rows.map((row) => (row.cells[0]?.text === "#" ? { ...row, cells: row.cells.slice(1) } : row));
    }
    const head = findColumns(rows);
    if (head === null) continue;
    if (best !== null && known(best.head) >= known(head)) continue;
    best = { head, rows: rows.slice(head.row + 1), unit: unitAbove(rows.slice(0, head.row)) };
  }
  if (best !== null) return best;
  if (failed instanceof ToolError) throw failed;
  throw new ToolError("E_IMPORT_HEADER", {
    problem:
      "a line was expected that names columns for the designator, x and y (such as Ref, X, Y), but none was found",
    fix: "Export the table with its line of heads, or write one: Ref,X,Y,Rotation,Side,Package",
    place: { file },
  });
}

function known(head: TableHead): number {
  return Object.keys(head.columns).length;
}

/** "Units used = mm / deg", "Unit: mil" and the like. */
function unitAbove(rows: readonly Row[]): LengthUnit | null {
  for (const row of rows) {
    const line = row.cells.map((cell) => cell.text).join(" ");
    const word = /\bunits?\b(?:\s+used)?[\s:=]*([\p{L}µ]+)/iu.exec(line)?.[1];
    const unit = word === undefined ? null : lengthUnitOf(word);
    if (unit !== null) return unit;
  }
  return null;
}

const NUMBER = /^([+-]?(?:\d+[.,]?\d*|[.,]\d+)(?:e[+-]?\d+)?)\s*(.*)$/i;

/** A number of a cell and the unit that stands behind it. */
export interface CellNumber {
  readonly value: number;
  /** Empty where none stands there. */
  readonly suffix: string;
  /** True if its decimals stand after a comma. */
  readonly comma: boolean;
}

/** Read a number with point or comma before its decimals. Of one with both marks the second part is left as its suffix,
 *  which no unit is: 1.234,5 is told differently from country to country.
 *  @returns null for anything else. */
export function readNumber(text: string): CellNumber | null {
  const match = NUMBER.exec(text.trim().replace(/^[−–]/, "-"));
  if (match === null) return null;
  const value = Number(match[1]!.replace(",", "."));
  return Number.isFinite(value) ? { value, suffix: match[2]!.trim(), comma: match[1]!.includes(",") } : null;
}
