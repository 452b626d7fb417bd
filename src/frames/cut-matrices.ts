// frames: runs of rows → the matrices in them, without labels, indices and trailing separators.
import { ToolError } from "../core/errors.js";
import { type Blocks, isCounting, noMatrix } from "./find-blocks.js";
import type { Lines } from "./find-lines.js";
import { locateField } from "./locate-field.js";
import { FIRST_EMPTY, FIRST_TEXT, HAS_DECIMALS, type RowTable } from "./scan-rows.js";

/** One matrix of numbers as written, row-major; NaN = no reading. */
interface TextMatrix {
  readonly width: number;
  readonly height: number;
  readonly values: Float64Array;
  /** Whether no value is written with decimals. */
  readonly wholeNumbers: boolean;
  /** Line of the file on which the matrix begins, from 1. */
  readonly line: number;
}

/** The matrices of a text, all of one size, and what was left out or joined to get them. */
export interface CutMatrices {
  readonly matrices: readonly TextMatrix[];
  readonly skippedIndexRow: boolean;
  readonly skippedIndexColumn: boolean;
  readonly joinedRows: boolean;
}

/** From this many on, whole numbers that count up from 0 or 1 are indices even among whole numbers. */
const SURE_COUNT = 8;
/** Frames of a file. An hour of 18 a second is less; of matrices of four numbers many more would fit into the memory's
 *  bounds. */
export const MOST_FRAMES = 65_536;

/** Cut the matrices out of the rows of a text.
 *  A first row (column) is one of indices if its numbers count up by one from 0 or 1, are written without
 *  decimals, and one of these holds: the other rows are written with decimals; there are at least 8 of them; the
 *  field in the corner is text; it is empty and indices stand under it as well. Under a corner of text the first
 *  column holds labels, whatever they are. The same row met again begins the next matrix.
 *  Rows that stand alone between blank lines are one matrix: a frame of one row is none.
 *  @throws ToolError E_TEXT_MATRIX if a matrix is smaller than 2 × 2; E_TEXT_RAGGED if a row lacks a value;
 *    E_FRAME_SIZE if two differ in size; E_FRAME_LARGE beyond `MOST_FRAMES`.
 */
export function cutMatrices(
  table: RowTable,
  lines: Lines,
  bytes: Uint8Array,
  separator: number,
  found: Blocks,
  file?: string,
): CutMatrices {
  const { fieldCount, labelled } = found;
  const joinedRows = found.blocks.length > 1 && found.blocks.every((block) => block.length === 1);
  const runs = joinedRows ? [found.blocks.flat()] : found.blocks;
  let skippedIndexRow = false;
  let skippedIndexColumn = false;
  const matrices: TextMatrix[] = [];
  for (const run of runs) {
    for (const rows of splitAtRepeats(run)) {
      if (matrices.length === MOST_FRAMES) throw tooMany(lines.numbers[rows[0]!]!, file);
      matrices.push(cutOne(rows));
    }
  }
  const first = matrices[0];
  if (first === undefined) throw noMatrix("there are no rows of numbers in it", file);
  for (const other of matrices) {
    if (other.width === first.width && other.height === first.height) continue;
    throw new ToolError("E_FRAME_SIZE", {
      problem: `the first matrix of the file is ${first.width}×${first.height}, the one from line ${other.line} on is ${other.width}×${other.height}`,
      fix: "Put frames of one size into a file, and a line of words or a blank line between frames only",
      place: { file, line: other.line },
    });
  }
  return { matrices, skippedIndexRow, skippedIndexColumn, joinedRows };

  /** An index row that comes again without a blank line before it begins the next matrix. */
  function splitAtRepeats(run: readonly number[]): number[][] {
    const style = indexRowStyle(run);
    if (style === null) return [[...run]];
    const parts: number[][] = [];
    for (const line of run) {
      if (table.counts[line] === table.counts[run[0]!] && isIndices(line, style)) parts.push([]);
      parts[parts.length - 1]!.push(line);
    }
    return parts;
  }

  function cutOne(rows: readonly number[]): TextMatrix {
    const style = indexRowStyle(rows);
    const headed = style !== null;
    const body = headed ? rows.slice(1) : rows;
    const from = labelled || style === "corner" || countsDown(body, false) ? 1 : 0;
    const short = (from === 0 ? rows : body).find((line) => table.counts[line]! < fieldCount);
    if (short !== undefined) {
      throw new ToolError("E_TEXT_RAGGED", {
        problem: `the other rows have ${fieldCount} values, this one has ${table.counts[short]}`,
        fix: "Export the frame again, or remove the torn row and its frame",
        place: { file, line: lines.numbers[short], column: fieldCount },
      });
    }
    const width = fieldCount - from;
    const height = body.length;
    const line = lines.numbers[rows[0]!]!;
    if (width < 2 || height < 2) {
      throw noMatrix(`${width} × ${height} numbers (columns × rows) were found from line ${line} on`, file);
    }
    skippedIndexRow ||= headed;
    skippedIndexColumn ||= from === 1;
    let wholeNumbers = true;
    for (let y = 0; y < height; y++) {
      if ((table.flags[body[y]!]! & HAS_DECIMALS) !== 0) wholeNumbers = false;
    }
    return { width, height, values: valuesOf(body, from, width), wholeNumbers, line };
  }

  /** Fields of rows, from a column on; a copy only where others lie between them. */
  function valuesOf(body: readonly number[], from: number, width: number): Float64Array {
    const start = (y: number): number => table.starts[body[y]!]! + from;
    if (body.every((_, y) => start(y) === start(0) + y * width)) {
      return table.values.subarray(start(0), start(0) + width * body.length);
    }
    const values = new Float64Array(width * body.length);
    for (let y = 0; y < body.length; y++) {
      values.set(table.values.subarray(start(y), start(y) + width), y * width);
    }
    return values;
  }

  /** How a run begins: with indices over every field, with a corner and then indices, or with neither. */
  function indexRowStyle(rows: readonly number[]): "plain" | "corner" | null {
    const head = rows[0]!;
    if (rows.length < 3 || (table.flags[head]! & HAS_DECIMALS) !== 0) return null;
    const sure = fieldCount > SURE_COUNT || rows.some((line) => (table.flags[line]! & HAS_DECIMALS) !== 0);
    if (isIndices(head, "plain")) return sure ? "plain" : null;
    if (!isIndices(head, "corner")) return null;
    if (labelled) return sure ? "corner" : null;
    if ((table.flags[head]! & FIRST_TEXT) !== 0) return "corner";
    // A number or nothing in the corner is no sign of a corner, unless indices stand under it.
    return countsDown(rows.slice(1), (table.flags[head]! & FIRST_EMPTY) !== 0) ? "corner" : null;
  }

  function isIndices(line: number, style: "plain" | "corner"): boolean {
    return isCounting(table, line, style === "plain" ? 0 : 1, Math.min(table.counts[line]!, fieldCount));
  }

  /** True if the first fields of the rows are indices. */
  function countsDown(rows: readonly number[], certain: boolean): boolean {
    if (labelled || fieldCount < 3 || rows.length < 2) return false;
    const origin = table.values[table.starts[rows[0]!]!]!;
    if (origin !== 0 && origin !== 1) return false;
    for (let k = 0; k < rows.length; k++) {
      const line = rows[k]!;
      if (table.values[table.starts[line]!] !== origin + k) return false;
      const text = locateField(bytes, lines.starts[line]!, lines.ends[line]!, separator, 0);
      if (!/^\d+$/.test(text)) return false;
    }
    if (certain || rows.length >= SURE_COUNT) return true;
    return rows.some((line) => (table.flags[line]! & HAS_DECIMALS) !== 0);
  }
}

function tooMany(line: number, file?: string): ToolError {
  return new ToolError("E_FRAME_LARGE", {
    problem: `the file holds more than ${MOST_FRAMES} frames`,
    fix: "Export long recordings in several files, and name all of them",
    place: { file, line },
  });
}
