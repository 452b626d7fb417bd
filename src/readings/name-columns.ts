// readings: the first rows of a table of references → which column is what.
import { parseExpected, parseTolerance } from "./parse-expected.js";
import { MEASURES, type Measure } from "./reading-schema.js";

/** What a column holds. */
type ColumnRole =
  | "board"
  | "net"
  | "ref"
  | "pin"
  | "measure"
  | "value"
  | "tolerance"
  | "lowByNature"
  | "remark";
/** Place of each column that was found, from 0. */
export type Columns = Partial<Record<ColumnRole, number>>;

/** Words that head a column, in small letters; the first role that has the word gets it. */
const HEADS: Readonly<Record<ColumnRole, readonly string[]>> = Object.freeze({
  board: ["board", "pcb"],
  net: ["net", "rail", "line", "signal", "net name", "netz", "name"],
  ref: ["ref", "part", "component", "refdes", "designator"],
  pin: ["pin", "pad", "point", "test point", "pin number"],
  measure: ["measure", "mode", "function", "range", "quantity"],
  value: [
    "value",
    "reading",
    "reference",
    "expected",
    "good",
    "nominal",
    "diode",
    "diode mode",
    "resistance",
    "voltage",
    "ohm",
    "ω",
    "v",
    "mv",
  ],
  tolerance: ["tolerance", "tol", "±", "+/-", "limit"],
  lowByNature: ["low by nature", "lowbynature", "low", "normally low"],
  remark: ["remark", "note", "notes", "comment", "remarks"],
});

/** Words for what a meter is set to. */
const MEASURE_WORDS: Readonly<Record<string, Measure>> = Object.freeze({
  diode: "diode",
  "diode mode": "diode",
  drop: "diode",
  resistance: "resistance",
  ohm: "resistance",
  ohms: "resistance",
  ω: "resistance",
  r: "resistance",
  voltage: "voltage",
  volts: "voltage",
  volt: "voltage",
  v: "voltage",
  current: "current",
  amps: "current",
  a: "current",
});

/** Read a word for what the meter was set to; null if it is none. */
export function parseMeasure(word: string): Measure | null {
  // The sign of ohm is a capital omega, in either of its codes.
  const plain = word.trim().toLowerCase();
  return Object.hasOwn(MEASURE_WORDS, plain) ? MEASURE_WORDS[plain]! : null;
}

/** A unit or a measure in the head of the value's column, such as `value (mV)` or `resistance [kΩ]`. */
export interface HeadHints {
  readonly unit: string | null;
  readonly measure: Measure | null;
}

/** Name the columns by the words of a first row.
 *  @returns null if the row holds fewer than two words that head columns: it is a row of values then.
 */
export function columnsByHead(fields: readonly string[]): { columns: Columns; hints: HeadHints } | null {
  const columns: Columns = {};
  let hints: HeadHints = { unit: null, measure: null };
  fields.forEach((field, k) => {
    const unit = /[([]\s*([^)\]]+?)\s*[)\]]/.exec(field)?.[1] ?? null;
    const word = field
      .replace(/[([].*$/, "")
      .trim()
      .toLowerCase()
      .replace(/[_-]+/g, " ");
    const role = (Object.keys(HEADS) as ColumnRole[]).find(
      (name) => columns[name] === undefined && HEADS[name].includes(word),
    );
    if (role === undefined) return;
    columns[role] = k;
    if (role === "value")
      hints = {
        unit: unit ?? (word === "mv" ? "mV" : null),
        measure: parseMeasure(word === "mv" ? "" : word),
      };
  });
  return Object.keys(columns).length >= 2 ? { columns, hints } : null;
}

/** Guess the columns of a table without a head by what they hold: the first whose every field is a value is the value, the
 *  next such one the tolerance, one of words for a meter's mode the measure, and of the others the first the net and the
 *  second the pin.
 */
export function columnsByContent(rows: readonly (readonly string[])[]): Columns {
  const columns: Columns = {};
  const width = rows.reduce((most, row) => Math.max(most, row.length), 0);
  for (let k = 0; k < width; k++) {
    const filled = rows.map((row) => row[k] ?? "").filter((field) => field !== "");
    if (filled.length === 0) continue;
    const all = (test: (field: string) => boolean) => filled.every(test);
    // The first column says where, even where nets are called 3V3.
    if (k > 0 && columns.value === undefined && all(isValue)) columns.value = k;
    else if (columns.value !== undefined && columns.tolerance === undefined && all(isTolerance))
      columns.tolerance = k;
    else if (columns.measure === undefined && all((field) => parseMeasure(field) !== null))
      columns.measure = k;
    else if (columns.net === undefined) columns.net = k;
    else if (columns.pin === undefined && columns.value === undefined) columns.pin = k;
    else if (columns.remark === undefined) columns.remark = k;
  }
  return columns;
}

function isValue(field: string): boolean {
  return MEASURES.some((measure) => reads(() => parseExpected(field, measure)));
}

function isTolerance(field: string): boolean {
  return MEASURES.some((measure) => reads(() => parseTolerance(field, measure)));
}

function reads(parse: () => unknown): boolean {
  try {
    parse();
    return true;
  } catch {
    return false;
  }
}
