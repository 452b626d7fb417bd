// readings: the text of a table of references → its rows of fields, whatever parts them.
import { ToolError } from "../core/errors.js";
import { splitTable, type TableRules } from "../import/split-table.js";

/** A row that is not blank. */
export interface TableRow {
  readonly fields: readonly string[];
  /** Line of the file that it begins on, from 1. */
  readonly line: number;
}

const SEPARATORS = ["\t", ";", "|", ","] as const;

/** Split a table into rows of trimmed fields, as `splitTable` does. The separator is the first of tab, semicolon, bar
 *  and comma that parts the rows into one same number of fields, more than one; else the one that stands in most of
 *  them. Lines that begin with # are remarks.
 *  @throws ToolError E_TEXT_QUOTE if a quote never closes.
 */
export function splitReferences(text: string, file?: string): TableRow[] {
  const rules: TableRules = {
    unclosed: (line) =>
      new ToolError("E_TEXT_QUOTE", {
        problem: "a quoted field opens here and never closes",
        fix: "Close it by a second quote, or remove the quote",
        place: { file, line },
      }),
  };
  const tables = SEPARATORS.map((separator): TableRow[] =>
    splitTable(text, separator, rules)
      .map(({ cells, line }) => ({ fields: cells.map((cell) => cell.text), line }))
      .filter(({ fields }) => !fields[0]!.startsWith("#")),
  );
  const even = tables.find((rows) => {
    const counts = new Set(rows.map(({ fields }) => fields.length));
    return counts.size === 1 && !counts.has(1);
  });
  if (even !== undefined) return even;
  const parted = (rows: readonly TableRow[]) => rows.filter(({ fields }) => fields.length > 1).length;
  return tables.reduce((best, rows) => (parted(rows) > parted(best) ? rows : best));
}
