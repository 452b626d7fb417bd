// readings: the bytes of a table → references, and readings, of its rows.
import { ToolError } from "../core/errors.js";
import { decodeText } from "../import/decode-text.js";
import {
  type Columns,
  columnsByContent,
  columnsByHead,
  parseMeasure,
  type ValueColumn,
} from "./name-columns.js";
import { type ExpectedValue, parseExpected, parseTolerance } from "./parse-expected.js";
import { parseQuantity } from "./parse-quantity.js";
import { parseReading } from "./parse-reading.js";
import type { Measure, Reading, Reference } from "./reading-schema.js";
import { splitReferences, type TableRow } from "./split-references.js";

/** What is taken for granted where the table does not tell. */
export const TABLE_DEFAULTS = Object.freeze({
  /** References of a line are most often kept in diode mode (common practice, no source). */
  measure: "diode" as Measure,
  /** Bytes of a table: ten thousand references have half a megabyte. */
  maxBytes: 4 * 1024 * 1024,
});

/** What a table came to. */
export interface ReferenceTable {
  readonly references: Reference[];
  readonly readings: Reading[];
  /** What was taken for granted, and what was left out, one sentence each, for the user to see. */
  readonly assumed: string[];
}

const YES = /^(?:yes|y|true|1|x|ja|low)$/i;
const NO = /^(?:no|n|false|0|-|nein|)$/i;

/** Parse a table of what good boards show, and of what this one does: net, pin or ref, one or more columns of values,
 *  and if there are any: measure, tolerance, rails that are low by nature, board, remark. Columns are known by the
 *  words of the first row, without those by what they hold; any separator, quotes by RFC 4180, decimal point or comma.
 *  Where there are several columns of values, each cell that is not empty counts.
 *  @param bytes UTF-8, UTF-16 or, where those don't fit, Windows-1252.
 *  @param options.measure of rows that don't tell.
 *  @param options.unnamed what values are whose column does not say whether this board showed them or a good one;
 *  `reference` if absent.
 *  @throws ToolError E_REFERENCE_TABLE without columns of values and places, E_REFERENCE_CELL with line and column of a
 *  cell that can't be understood, E_TEXT_ENCODING, E_TEXT_QUOTE.
 */
export function parseReadingTable(
  bytes: Uint8Array,
  file?: string,
  options: { readonly measure?: Measure; readonly unnamed?: "reading" | "reference" } = {},
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
  const columns = head ?? columnsByContent(rows.map(({ fields }) => fields));
  checkColumns(columns, body.length, file);
  const assumed = new Set<string>();
  if (head === null) assumed.add(`without a row of names the columns were taken as ${columnList(columns)}`);
  if (columns.unknown.length > 0)
    assumed.add(`what stands under ${columns.unknown.map((name) => `"${name}"`).join(", ")} was left out`);
  const told: Told = { columns, file, measure: options.measure ?? null, assumed };
  const references: Reference[] = [];
  const readings: Reading[] = [];
  for (const row of body) {
    const filled = columns.values.filter(({ index }) => (row.fields[index] ?? "") !== "");
    for (const column of filled.length === 0 ? columns.values.slice(0, 1) : filled) {
      const shows = column.shows === "either" ? (options.unnamed ?? "reference") : column.shows;
      if (shows === "reading") readings.push(readingOf(row, column, told));
      else references.push(referenceOf(row, column, told));
    }
  }
  return { references, readings, assumed: [...assumed] };
}

/** What a whole table tells of its rows. */
interface Told {
  readonly columns: Columns;
  readonly file: string | undefined;
  /** Of rows that don't tell; null: not known. */
  readonly measure: Measure | null;
  /** Gets what is taken for granted. */
  readonly assumed: Set<string>;
}

function referenceOf(row: TableRow, column: ValueColumn, told: Told): Reference {
  const { columns, file, assumed } = told;
  const { place, cell, refuse, understand } = cellsOf(row, told);
  const measure = measureOf(row, column, told);
  const value = understand(
    column.index,
    `a value in ${measure} mode`,
    (text): ExpectedValue => parseExpected(withUnit(text, column.unit, measure), measure),
  );
  if (value.assumed !== null) assumed.add(value.assumed);
  const { tolerance: toleranceAt, lowByNature: lowAt } = columns.places;
  const tolerance =
    cell(toleranceAt) === ""
      ? {}
      : understand(toleranceAt, "a tolerance such as 10 % or 0.02", (text) =>
          parseTolerance(withUnit(text, column.unit, measure), measure),
        );
  const low = cell(lowAt);
  if (!YES.test(low) && !NO.test(low)) throw refuse(lowAt, "yes or no");
  const { assumed: _, ...numbers } = value;
  return {
    ...place(),
    measure,
    ...numbers,
    ...tolerance,
    raw: cell(column.index),
    ...(YES.test(low) ? { lowByNature: true } : {}),
    ...optional("remark", cell(columns.places.remark)),
    ...optional("source", file ?? ""),
  };
}

function readingOf(row: TableRow, column: ValueColumn, told: Told): Reading {
  const { place, cell, understand } = cellsOf(row, told);
  const measure = measureOf(row, column, told);
  const { assumed, ...value } = understand(column.index, `a reading in ${measure} mode`, (text) =>
    parseReading(withUnit(text, column.unit, measure), measure),
  );
  if (assumed !== null) told.assumed.add(assumed);
  return {
    ...place(),
    measure,
    ...value,
    raw: cell(column.index),
    ...optional("remark", cell(told.columns.places.remark)),
  };
}

function measureOf(row: TableRow, column: ValueColumn, told: Told): Measure {
  const { cell, refuse } = cellsOf(row, told);
  const at = told.columns.places.measure;
  const named = cell(at) === "" ? (column.measure ?? told.measure) : parseMeasure(cell(at));
  if (named === null && cell(at) !== "") throw refuse(at, "diode, resistance, voltage or current");
  if (named === null)
    told.assumed.add("the table does not say what the meter was set to: diode mode was taken");
  return named ?? TABLE_DEFAULTS.measure;
}

/** The cells of one row, and how to refuse one. */
function cellsOf({ fields, line }: TableRow, { columns: { places }, file }: Told) {
  const cell = (at: number | undefined) => (at === undefined ? "" : (fields[at] ?? ""));
  const refuse = (at: number | undefined, expected: string) =>
    new ToolError("E_REFERENCE_CELL", {
      problem: `${expected} was expected, found ${cell(at) === "" ? "nothing" : `"${cell(at)}"`}`,
      fix: "Correct the cell, or remove the row",
      place: { file, line, column: (at ?? 0) + 1 },
    });
  const understand = <T>(at: number | undefined, expected: string, parse: (text: string) => T): T => {
    try {
      return parse(cell(at));
    } catch {
      throw refuse(at, expected);
    }
  };
  const place = () => {
    if (cell(places.net) === "" && cell(places.ref) === "")
      throw refuse(places.net ?? places.ref, "the name of a net or a part");
    return {
      ...optional("board", cell(places.board)),
      ...optional("net", cell(places.net)),
      ...optional("ref", cell(places.ref)),
      ...optional("pin", cell(places.pin)),
    };
  };
  return { cell, refuse, understand, place };
}

function checkColumns(columns: Columns, rows: number, file?: string): void {
  const place = columns.places.net ?? columns.places.ref;
  if (rows > 0 && columns.values.length > 0 && place !== undefined) return;
  const missing =
    rows === 0
      ? "it holds no row of values"
      : columns.values.length === 0
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

function columnList({ places, values }: Columns): string {
  const named = values.map(({ index }): [string, number] => ["value", index]);
  return [...Object.entries(places), ...named]
    .sort((a, b) => a[1] - b[1])
    .map(([role]) => role)
    .join(", ");
}
