// readings: the text of a table → its rows of fields, whatever parts them.
import { ToolError } from "../core/errors.js";

/** A row that is not blank. */
export interface TableRow {
  readonly fields: readonly string[];
  /** Line of the file that it begins on, from 1. */
  readonly line: number;
}

const SEPARATORS = ["\t", ";", "|", ","] as const;

/** Split a table into rows of trimmed fields by RFC 4180: quotes around a field that holds separators, line ends or
 *  doubled quotes. The separator is the first of tab, semicolon, bar and comma that parts the rows into one same number of
 *  fields, more than one; else the one that stands in most of them. Lines that begin with # are remarks.
 *  @throws ToolError E_TEXT_QUOTE if a quote never closes.
 */
export function splitTable(text: string, file?: string): TableRow[] {
  const tables = SEPARATORS.map((separator) => splitBy(text, separator, file));
  const even = tables.find((rows) => {
    const counts = new Set(rows.map(({ fields }) => fields.length));
    return counts.size === 1 && !counts.has(1);
  });
  if (even !== undefined) return even;
  const parted = (rows: readonly TableRow[]) => rows.filter(({ fields }) => fields.length > 1).length;
  return tables.reduce((best, rows) => (parted(rows) > parted(best) ? rows : best));
}

function splitBy(text: string, separator: string, file?: string): TableRow[] {
  const rows: TableRow[] = [];
  let fields: string[] = [];
  let field = "";
  let line = 1;
  let rowLine = 1;
  let openedAt = 0;
  let state: "start" | "plain" | "quoted" | "closed" = "start";
  const endField = () => {
    fields.push(field.trim());
    field = "";
    state = "start";
  };
  const endRow = () => {
    endField();
    if (fields.some((value) => value !== "") && !fields[0]!.startsWith("#")) {
      rows.push({ fields, line: rowLine });
    }
    fields = [];
  };
  for (let i = 0; i < text.length; i++) {
    const c = text[i]!;
    if (c === "\n" || (c === "\r" && text[i + 1] !== "\n")) line++;
    if (state === "quoted") {
      if (c !== '"') field += c;
      else if (text[i + 1] === '"') field += text[++i];
      else state = "closed";
    } else if (c === separator) endField();
    else if (c === "\n" || c === "\r") {
      if (c === "\r" && text[i + 1] === "\n") continue;
      endRow();
      rowLine = line;
    } else if (c === '"' && state === "start" && field.trim() === "") {
      field = "";
      state = "quoted";
      openedAt = line;
    } else {
      field += c;
      if (c !== " ") state = "plain";
    }
  }
  if (state === "quoted") {
    throw new ToolError("E_TEXT_QUOTE", {
      problem: "a quoted field opens here and never closes",
      fix: "Close it by a second quote, or remove the quote",
      place: { file, line: openedAt },
    });
  }
  endRow();
  return rows;
}
