// readings: the first rows of a table of references or readings → which column is what.
import { parseExpected, parseTolerance } from "./parse-expected.js";
import { MEASURES, type Measure } from "./reading-schema.js";

/** What a column of which a row has one holds. */
type ColumnRole = "board" | "net" | "ref" | "pin" | "measure" | "tolerance" | "lowByNature" | "remark";

/** A column of values. */
export interface ValueColumn {
  /** Its place, from 0. */
  readonly index: number;
  /** What this board showed (`reading`), a good one (`reference`), or either: its head does not tell. */
  readonly shows: "reading" | "reference" | "either";
  /** A unit or a measure in its head, such as `value (mV)` or `resistance [kΩ]`. */
  readonly unit: string | null;
  readonly measure: Measure | null;
}

/** The columns of a table. */
export interface Columns {
  /** Place of each column that was found, from 0. */
  readonly places: Readonly<Partial<Record<ColumnRole, number>>>;
  readonly values: readonly ValueColumn[];
  /** Heads of columns that are none of these. */
  readonly unknown: readonly string[];
}

/** Words that head columns of values. */
const VALUE_HEADS: Readonly<Record<ValueColumn["shows"], readonly string[]>> = Object.freeze({
  reading: ["reading", "measured", "found", "actual"],
  reference: ["reference", "expected", "good", "good board", "nominal"],
  either: [
    "value",
    "diode",
    "diode mode",
    "drop",
    "resistance",
    "ohm",
    "ohms",
    "ω",
    "voltage",
    "volts",
    "v",
    "mv",
    "current",
    "amps",
  ],
});

/** Words that head a column, in small letters; the first role that has the word gets it. */
const HEADS: Readonly<Record<ColumnRole, readonly string[]>> = Object.freeze({
  board: ["board", "pcb"],
  net: ["net", "rail", "line", "signal", "net name", "netz", "name"],
  ref: ["ref", "part", "component", "refdes", "designator"],
  pin: ["pin", "pad", "point", "test point", "pin number"],
  measure: ["measure", "mode", "function", "range", "quantity"],
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

/** Name the columns by the words of a first row.
 *  @returns null if the row holds fewer than two words that head columns: it is a row of values then.
 */
export function columnsByHead(fields: readonly string[]): Columns | null {
  const places: Partial<Record<ColumnRole, number>> = {};
  const values: ValueColumn[] = [];
  const unknown: string[] = [];
  fields.forEach((field, index) => {
    const unit = /[([]\s*([^)\]]+?)\s*[)\]]/.exec(field)?.[1] ?? null;
    const word = field
      .replace(/[([].*$/, "")
      .trim()
      .toLowerCase()
      .replace(/[_-]+/g, " ");
    const role = namesOf(HEADS).find((name) => places[name] === undefined && HEADS[name].includes(word));
    const shows = namesOf(VALUE_HEADS).find((name) => VALUE_HEADS[name].includes(word));
    if (role !== undefined) places[role] = index;
    else if (shows !== undefined) {
      const measure = parseMeasure(word);
      values.push({ index, shows, unit: unit ?? (word === "mv" ? "mV" : null), measure });
    } else if (field.trim() !== "") unknown.push(field.trim());
  });
  return Object.keys(places).length + values.length >= 2 ? { places, values, unknown } : null;
}

function namesOf<K extends string>(table: Readonly<Record<K, unknown>>): K[] {
  return Object.keys(table) as K[];
}

/** Guess the columns of a table without a head by what they hold: the first whose every field is a value is the value,
 *  the next such one the tolerance, one of words for a meter's mode the measure, and of the others the first the net
 *  and the second the pin.
 */
export function columnsByContent(rows: readonly (readonly string[])[]): Columns {
  const places: Partial<Record<ColumnRole, number>> = {};
  const values: ValueColumn[] = [];
  const width = rows.reduce((most, row) => Math.max(most, row.length), 0);
  for (let k = 0; k < width; k++) {
    const filled = rows.map((row) => row[k] ?? "").filter((field) => field !== "");
    if (filled.length === 0) continue;
    const all = (test: (field: string) => boolean) => filled.every(test);
    // The first column says where, even where nets are called 3V3.
    if (k > 0 && values.length === 0 && all(isValue))
      values.push({ index: k, shows: "either", unit: null, measure: null });
    else if (values.length > 0 && places.tolerance === undefined && all(isTolerance)) places.tolerance = k;
    else if (places.measure === undefined && all((field) => parseMeasure(field) !== null)) places.measure = k;
    else if (places.net === undefined) places.net = k;
    else if (places.pin === undefined && values.length === 0) places.pin = k;
    else if (places.remark === undefined) places.remark = k;
  }
  return { places, values, unknown: [] };
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
