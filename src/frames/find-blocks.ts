// frames: scanned lines → runs of rows that belong to one matrix each, and the header lines between them.
import { ToolError } from "../core/errors.js";
import type { Lines } from "./find-lines.js";
import { locateField } from "./locate-field.js";
import { BLANK, FIRST_TEXT, LAST_EMPTY, type RowTable } from "./scan-rows.js";

/** The lines of a text, sorted. Lines are named by their place in the table. */
export interface Blocks {
  /** Runs of rows without a blank or header line between them. */
  readonly blocks: readonly (readonly number[])[];
  readonly headers: readonly number[];
  /** Values in a row, the label included, what follows a trailing separator not. */
  readonly fieldCount: number;
  /** Whether rows begin with a label that is text. */
  readonly labelled: boolean;
}

/** A line of at most this many fields may stand between two matrices as a time or a number of the frame … */
const FEW_FIELDS = 2;
/** … if the matrices have at least this many columns, so that it can't be a torn row of theirs. */
const MANY_FIELDS = 4;

/** Sort the lines of a text into rows, header lines and blank lines.
 *  A row holds as many fields as most lines that hold numbers only; a line of nothing but separators is blank.
 *  A line that begins with text or with `#`, `%`, `//` is a header line, unless it is as long as a row and most
 *  of it are numbers: then a cell of it is broken, and to pass over it would lose a row.
 *  @throws ToolError E_TEXT_MATRIX, E_TEXT_CELL or E_TEXT_RAGGED.
 */
export function findBlocks(
  table: RowTable,
  lines: Lines,
  bytes: Uint8Array,
  separator: number,
  file?: string,
): Blocks {
  const comment = lines.starts.map((start, i) => isComment(bytes, start, lines.ends[i]!));
  const { fieldCount, labelled, trailing: allTrailing } = commonShape(table, comment, file);
  const blocks: number[][] = [];
  const headers: number[] = [];
  let open: number[] | null = null;
  for (let i = 0; i < table.counts.length; i++) {
    const sort = comment[i] ? "header" : sortLine(i, open !== null);
    if (sort === "row") {
      if (open === null) {
        open = [];
        blocks.push(open);
      }
      open.push(i);
    } else {
      open = null;
      if (sort === "header") headers.push(i);
    }
  }
  return { blocks, headers, fieldCount, labelled };

  function sortLine(i: number, inside: boolean): "blank" | "header" | "row" {
    const flags = table.flags[i]!;
    if ((flags & BLANK) !== 0) return "blank";
    const count = table.counts[i]!;
    const numeric = table.numerics[i]!;
    const textFirst = (flags & FIRST_TEXT) !== 0;
    const trailing = count === fieldCount + 1 && (flags & LAST_EMPTY) !== 0;
    // Where every row ends in a separator, one that is a field shorter lacks a value, not its last reading.
    const short = allTrailing && count === fieldCount && (flags & LAST_EMPTY) !== 0;
    const fits = (count === fieldCount && !short) || trailing;
    // A row of column indices may lack the field above the labels.
    const overLabels = !textFirst && count === fieldCount - 1 && isCounting(table, i, 0, count);
    if (table.texts[i] === 0 && (fits || overLabels) && (!textFirst || labelled)) return "row";
    if (table.texts[i] === 0 && fits && textFirst && isCounting(table, i, 1, fieldCount)) return "row";
    const mostlyNumbers = numeric * 2 > fieldCount;
    if (textFirst) {
      if (!mostlyNumbers || (count < MANY_FIELDS && !inside)) return "header";
      if (table.texts[i] === 0 && !fits) return labelled ? ragged(i, count) : "header";
      return fits ? brokenCell(i, labelled ? table.textColumns[i]! : 0) : "header";
    }
    if (numeric === 0 && table.texts[i]! * 2 > fieldCount) return "header";
    if (count <= FEW_FIELDS && fieldCount >= MANY_FIELDS && (!inside || table.texts[i]! > 0)) return "header";
    if (table.texts[i]! > 0) {
      return blocks.length === 0 && !fits ? "header" : brokenCell(i, table.textColumns[i]!);
    }
    return ragged(i, count);
  }

  function ragged(i: number, count: number): never {
    const endsEmpty = (table.flags[i]! & LAST_EMPTY) !== 0;
    const found = endsEmpty && (count > fieldCount || allTrailing) ? count - 1 : count;
    throw new ToolError("E_TEXT_RAGGED", {
      problem: `the other rows have ${fieldCount} values, this one has ${found}`,
      fix: "Export the frame again, or remove the torn row and its frame",
      place: { file, line: lines.numbers[i], column: Math.min(found, fieldCount) + 1 },
    });
  }

  function brokenCell(i: number, column: number): never {
    const text = locateField(bytes, lines.starts[i]!, lines.ends[i]!, separator, column);
    const shown = text.length > 40 ? `${text.slice(0, 40)}…` : text;
    throw new ToolError("E_TEXT_CELL", {
      problem: `a number was expected, but value ${column + 1} of this row is ${JSON.stringify(shown)}`,
      fix: "Write an empty field or NaN where there is no reading; write decimals with a point, or with a comma throughout",
      place: { file, line: lines.numbers[i], column: column + 1 },
    });
  }
}

/** How many fields most lines of numbers have, and whether they begin with a label. */
function commonShape(table: RowTable, comment: readonly boolean[], file?: string) {
  const tally = new Map<
    number,
    { lines: number; labels: number; trailing: number; trailingLabels: number }
  >();
  for (let i = 0; i < table.counts.length; i++) {
    const flags = table.flags[i]!;
    if (comment[i] || table.texts[i]! > 0 || (flags & BLANK) !== 0 || table.counts[i]! < 2) continue;
    if ((flags & FIRST_TEXT) !== 0 && table.numerics[i] === 0) continue;
    const entry = tally.get(table.counts[i]!) ?? { lines: 0, labels: 0, trailing: 0, trailingLabels: 0 };
    entry.lines++;
    const label = (flags & FIRST_TEXT) !== 0;
    if (label) entry.labels++;
    if ((flags & LAST_EMPTY) !== 0) entry[label ? "trailingLabels" : "trailing"]++;
    tally.set(table.counts[i]!, entry);
  }
  let count = 0;
  let lines = 0;
  for (const [width, entry] of tally) {
    if (entry.lines > lines || (entry.lines === lines && width > count)) {
      count = width;
      lines = entry.lines;
    }
  }
  const winner = tally.get(count);
  if (winner === undefined) throw noMatrix("no two numbers stand side by side in it", file);
  const labelled = winner.labels * 2 > winner.lines;
  // A header line of as many fields, such as `range;-20;150`, need not end as the rows do.
  const trailing = labelled
    ? winner.trailingLabels === winner.labels
    : winner.trailing === winner.lines - winner.labels;
  return { fieldCount: trailing ? count - 1 : count, labelled, trailing };
}

/** True if the fields from `from` up to `to` of a line count up by one from 0 or 1. */
export function isCounting(table: RowTable, line: number, from: number, to: number): boolean {
  const start = table.starts[line]!;
  const origin = table.values[start + from]!;
  if (to - from < 2 || (origin !== 0 && origin !== 1)) return false;
  for (let c = from; c < to; c++) if (table.values[start + c] !== origin + c - from) return false;
  return true;
}

/** The error for a text without a matrix. */
export function noMatrix(found: string, file?: string): ToolError {
  return new ToolError("E_TEXT_MATRIX", {
    problem: `a matrix of at least 2 × 2 numbers was expected, but ${found}`,
    fix: "Export the temperatures of all pixels as CSV or text, one line for each row of the picture",
    place: { file },
  });
}

function isComment(bytes: Uint8Array, start: number, end: number): boolean {
  let p = start;
  while (p < end && (bytes[p] === 32 || bytes[p] === 9)) p++;
  // `#N/A` is a word for no reading.
  if (bytes[p] === 35) return !(bytes[p + 1] === 78 && bytes[p + 2] === 47);
  return bytes[p] === 37 || (bytes[p] === 47 && bytes[p + 1] === 47);
}
