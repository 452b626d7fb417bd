// frames: bytes of a text file → one or more matrices of °C.
import { ToolError } from "../core/errors.js";
import { type Note, note } from "../core/notes.js";
import { createRaster, type Raster } from "../core/raster.js";
import { convertValues } from "./convert-values.js";
import { type CutMatrices, cutMatrices } from "./cut-matrices.js";
import { decodeTextBytes } from "./decode-text-bytes.js";
import { type DecimalMark, type DetectedDialect, detectDialect, type Separator } from "./detect-dialect.js";
import { findBlocks } from "./find-blocks.js";
import { findLines, type Lines } from "./find-lines.js";
import { findUnit } from "./find-unit.js";
import type { LinearScale } from "./scale.js";
import { openPlainScanner } from "./scan-by-kernel.js";
import { createRowTable, fieldText, scanRow } from "./scan-rows.js";
import type { TemperatureUnit } from "./temperature-unit.js";

/** What may be said of a text file from outside; what is not said is found out. */
export interface TextFrameOptions {
  /** Unit of the values; goes before what the header states. */
  readonly unit?: TemperatureUnit | undefined;
  readonly separator?: Separator | undefined;
  readonly decimal?: DecimalMark | undefined;
  /** For counts of a sensor: °C = gainCPerLevel · value + offsetC. Goes before every unit. */
  readonly linear?: LinearScale | undefined;
  /** Name for messages. */
  readonly file?: string | undefined;
}

/** The matrices of a text file, in its order, and what is to be said of how they were read. */
export interface TextFrames {
  readonly rasters: readonly Raster<"degC">[];
  /** Step between neighbouring values, K, where they are whole counts; else null. */
  readonly stepK: number | null;
  readonly notes: readonly Note[];
}

/** Read the temperatures of all frames in a text file, whatever the style.
 *  Styles: comma, semicolon, TAB or blanks between values; decimal point or comma; quoted fields; any line end;
 *  UTF-8 and UTF-16; comment, title and `key=value` lines; a row or column of indices or labels; trailing
 *  separators; scientific notation; °C, °F, K. Empty fields and words such as `NaN` are no reading. Frames are
 *  separated by blank lines (also lines of separators only) or lines of words.
 *  The values are rounded to double precision first and to single precision once, after the unit.
 *  @returns °C, each raster of the same size; NaN = no reading. Not checked for being plausible: see checkFrame.
 *  @throws ToolError E_TEXT_ENCODING, E_TEXT_QUOTE, E_TEXT_MATRIX, E_TEXT_CELL, E_TEXT_RAGGED, E_UNIT,
 *    E_FRAME_EMPTY, E_FRAME_LARGE or E_FRAME_SIZE.
 */
export function parseTextFrames(bytes: Uint8Array, options: TextFrameOptions = {}): TextFrames {
  const { file } = options;
  const text = decodeTextBytes(bytes, file);
  const lines = findLines(text, file);
  if (lines.starts.every((start, i) => isEmpty(text, start, lines.ends[i]!))) {
    throw new ToolError("E_FRAME_EMPTY", {
      problem: "the file holds no text",
      fix: "Export the frame again",
      place: { file },
    });
  }
  if (options.separator === "comma" && options.decimal === "comma" && !lines.quoted) {
    throw new ToolError("E_TEXT_MATRIX", {
      problem: "the comma can't both separate values and mark decimals unless values stand in quotes",
      fix: "Export with semicolons or TABs between the values",
      place: { file },
    });
  }
  const { table, detected, blocks } = scanLines(text, lines, options);
  const separator = detected.dialect.separator;
  const cut = cutMatrices(table, lines, text, separator, blocks, file);
  const headers = blocks.headers.map((i) => ({
    text: fieldText(text, lines.starts[i]!, Math.min(lines.ends[i]!, lines.starts[i]! + 1000)),
    line: lines.numbers[i]!,
  }));
  const notes = styleNotes(cut, detected, lines.quoted, options);
  const { convert, notes: unitNotes } = convertValues(
    cut.matrices[0]!.values,
    () => findUnit(headers, file),
    options,
  );
  notes.push(...unitNotes);
  const rasters = cut.matrices.map((m) => createRaster("degC", m.width, m.height, convert(m.values)));
  const counts = options.linear !== undefined && cut.matrices.every((m) => m.wholeNumbers);
  return { rasters, stepK: counts ? Math.abs(options.linear!.gainCPerLevel) : null, notes };
}

/** Scan all lines as a sample of them is written; if that fails, as most of all of them are. */
function scanLines(text: Uint8Array, lines: Lines, options: TextFrameOptions) {
  const detected = detectDialect(text, lines, options);
  try {
    return { detected, ...scanAs(text, lines, detected, options.file) };
  } catch (error) {
    if (!(error instanceof ToolError)) throw error;
    const again = detectDialect(text, lines, { ...options, everyLine: true });
    if (again.separator === detected.separator && again.decimal === detected.decimal) throw error;
    return { detected: again, ...scanAs(text, lines, again, options.file) };
  }
}

function scanAs(text: Uint8Array, lines: Lines, detected: DetectedDialect, file?: string) {
  const plain = openPlainScanner(text, lines, detected.dialect);
  const table = createRowTable(plain === null ? text.length >> 2 : 0);
  for (let i = 0; i < lines.starts.length; i++) {
    if (plain !== null) i = plain(table, i);
    if (i === lines.starts.length) break;
    scanRow(table, text, lines.starts[i]!, lines.ends[i]!, detected.dialect);
  }
  return { table, blocks: findBlocks(table, lines, text, detected.dialect.separator, file) };
}

function isEmpty(text: Uint8Array, start: number, end: number): boolean {
  for (let p = start; p < end; p++) if (text[p]! > 32) return false;
  return true;
}

function styleNotes(
  cut: CutMatrices,
  detected: DetectedDialect,
  quoted: boolean,
  options: TextFrameOptions,
): Note[] {
  const name = options.file ?? "the text";
  const notes: Note[] = [];
  if (cut.skippedIndexRow || cut.skippedIndexColumn) {
    const what = [cut.skippedIndexRow ? "first row" : "", cut.skippedIndexColumn ? "first column" : ""];
    notes.push(
      note(
        "N_INDICES_SKIPPED",
        `${name}: the ${what.filter((w) => w !== "").join(" and the ")} was left out as indices or labels.`,
      ),
    );
  }
  if (cut.joinedRows) {
    notes.push(
      note("N_ROWS_JOINED", `${name}: a blank line follows every row; the rows were read as one frame.`),
    );
  }
  const guessed =
    options.separator === undefined &&
    options.linear === undefined &&
    detected.separator === "comma" &&
    !quoted &&
    cut.matrices[0]!.width % 2 === 0 &&
    cut.matrices.every((m) => m.wholeNumbers);
  if (guessed) {
    notes.push(
      note(
        "N_SEPARATOR_GUESSED",
        `${name} holds whole numbers with commas between them; every comma was read as a separator. If some are decimal commas, export again with semicolons.`,
      ),
    );
  }
  return notes;
}
