// readings: the bytes of a table of references → one reference a row.
import { ToolError } from "../core/errors.js";
import { decodeText } from "../import/decode-text.js";
import { type Columns, columnsByContent, columnsByHead, parseMeasure } from "./name-columns.js";
import { type ExpectedValue, parseExpected, parseTolerance } from "./parse-expected.js";
import { parseQuantity } from "./parse-quantity.js";
import type { Measure, Reference } from "./reading-schema.js";
import { splitReferences, type TableRow } from "./split-references.js";

/** What is taken for granted where the table does not tell. */
export const TABLE_DEFAULTS = Object.freeze({
  /** References of a line are most often kept in diode mode (common practice, no source). */
  measure: "diode" as Measure,
  /** Bytes of a table: ten thousand references have half a megabyte. */
  maxBytes: 4 * 1024 * 1024,
});

/** What a table of references came to. */
export interface ReferenceTable {
  readonly references: Reference[];
  /** What was taken for granted, one sentence each, for the user to see. */
  readonly assumed: string[];
}

const YES = /^(?:yes|y|true|1|x|ja|low)$/i;
const NO = /^(?:no|n|false|0|-|nein|)$/i;

/** Parse a table of what good boards show: net, pin or ref, value, and if there are any: measure, tolerance, rails that are
 *  low by nature, board, remark. Columns are known by the words of the first row, without those by what they hold; any
 *  separator, quotes by RFC 4180, decimal point or comma.
 *  @param bytes UTF-8, UTF-16 or, where those don't fit, Windows-1252.
 *  @param options.measure of rows that don't tell.
 *  @throws ToolError E_REFERENCE_TABLE without columns of values and places, E_REFERENCE_CELL with line and column of a
 *  cell that can't be understood, E_TEXT_ENCODING, E_TEXT_QUOTE.
 */
export function parseReadingTable(
  bytes: Uint8Array,
  file?: string,
  options: { readonly measure?: Measure } = {},
): ReferenceTable {
  if (bytes.length > TABLE_DEFAULTS.maxBytes) {
    throw new ToolError("E_REFERENCE_TABLE", {
      problem: `a table of references of at most ${TABLE_DEFAULTS.maxBytes} bytes was expected, found ${bytes.length}`,
      fix: "Check that this is the right file",
      place: { file },
    });
  }
  const rows = splitReferences(decodeText(bytes, file), file);
  const head = rows.length === 0 ? null : columnsByHead(rows[0]!.fields);
  const body = head === null ? rows : rows.slice(1);
  const columns =
    head?.columns ?? (rows.length === 0 ? {} : columnsByContent(rows.map(({ fields }) => fields)));
  checkColumns(columns, body.length, file);
  const assumed = new Set<string>();
  if (head === null) assumed.add(`without a row of names the columns were taken as ${columnList(columns)}`);
  const fallback = head?.hints.measure ?? options.measure ?? null;
  const told: Told = { columns, file, unit: head?.hints.unit ?? null, measure: fallback, assumed };
  const references = body.map((row) => referenceOf(row, told));
  return { references, assumed: [...assumed] };
}

/** What a whole table tells of its rows. */
interface Told {
  readonly columns: Columns;
  readonly file: string | undefined;
  /** In the head of the values. */
  readonly unit: string | null;
  /** Of rows that don't tell; null: not known. */
  readonly measure: Measure | null;
  /** Gets what is taken for granted. */
  readonly assumed: Set<string>;
}

function referenceOf({ fields, line }: TableRow, told: Told): Reference {
  const { columns, file, unit, assumed } = told;
  const cell = (role: keyof Columns) => (columns[role] === undefined ? "" : (fields[columns[role]] ?? ""));
  const refuse = (role: keyof Columns, expected: string) =>
    new ToolError("E_REFERENCE_CELL", {
      problem: `${expected} was expected, found ${cell(role) === "" ? "nothing" : `"${cell(role)}"`}`,
      fix: "Correct the cell, or remove the row",
      place: { file, line, column: (columns[role] ?? 0) + 1 },
    });
  const understand = <T>(role: keyof Columns, expected: string, parse: () => T): T => {
    try {
      return parse();
    } catch {
      throw refuse(role, expected);
    }
  };
  const named = cell("measure") === "" ? told.measure : parseMeasure(cell("measure"));
  if (named === null && cell("measure") !== "")
    throw refuse("measure", "diode, resistance, voltage or current");
  if (named === null) assumed.add("the table does not say what the meter was set to: diode mode was taken");
  const measure = named ?? TABLE_DEFAULTS.measure;
  const value = understand(
    "value",
    `a value in ${measure} mode`,
    (): ExpectedValue => parseExpected(withUnit(cell("value"), unit, measure), measure),
  );
  if (value.assumed !== null) assumed.add(value.assumed);
  const tolerance =
    cell("tolerance") === ""
      ? {}
      : understand("tolerance", "a tolerance such as 10 % or 0.02", () =>
          parseTolerance(withUnit(cell("tolerance"), unit, measure), measure),
        );
  const low = cell("lowByNature");
  if (!YES.test(low) && !NO.test(low)) throw refuse("lowByNature", "yes or no");
  if (cell("net") === "" && cell("ref") === "")
    throw refuse(columns.net === undefined ? "ref" : "net", "the name of a net or a part");
  const { assumed: _, ...numbers } = value;
  return {
    ...optional("board", cell("board")),
    ...optional("net", cell("net")),
    ...optional("ref", cell("ref")),
    ...optional("pin", cell("pin")),
    measure,
    ...numbers,
    ...tolerance,
    raw: cell("value"),
    ...(YES.test(low) ? { lowByNature: true } : {}),
    ...optional("remark", cell("remark")),
    ...optional("source", file ?? ""),
  };
}

function checkColumns(columns: Columns, rows: number, file?: string): void {
  const place = columns.net ?? columns.ref;
  if (rows > 0 && columns.value !== undefined && place !== undefined) return;
  const missing =
    rows === 0
      ? "it holds no row of values"
      : columns.value === undefined
        ? "no column of values was found"
        : "no column of nets or parts was found";
  throw new ToolError("E_REFERENCE_TABLE", {
    problem: `${missing} in a table of references`,
    fix: 'Name the columns in the first row: "net,pin,measure,value,tolerance", with "ref" where a part is meant',
    place: { file },
  });
}

function optional<K extends string>(key: K, value: string): { [key in K]?: string } {
  return value === "" ? {} : ({ [key]: value } as { [key in K]: string });
}

/** Put the unit of the column's head behind a bare number. */
function withUnit(text: string, unit: string | null, measure: Measure): string {
  const bare = parseQuantity(text, measure)?.factor === null || /^[\d.,\s-]+$/.test(text);
  return unit !== null && bare && text !== "" ? `${text} ${unit}` : text;
}

function columnList(columns: Columns): string {
  return Object.entries(columns)
    .sort((a, b) => a[1] - b[1])
    .map(([role]) => role)
    .join(", ");
}
