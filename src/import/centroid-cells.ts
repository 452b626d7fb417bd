// import: a row of a centroid table → its cells as texts, lengths, angles and sides, or an error that names the cell.
import type { Region } from "../board/board-schema.js";
import { ToolError } from "../core/errors.js";
import { type ColumnRole, lengthUnitOf } from "./find-columns.js";
import type { FilePlace } from "./finish-import.js";
import { type LengthUnit, MM_PER_UNIT } from "./import-options.js";
import { type CellNumber, type CentroidTable, readNumber } from "./read-table.js";
import { sideOfMirror, sideOfWord } from "./side-of-word.js";
import type { Row } from "./split-table.js";

/** Reads the cells of one table. */
export interface CellReader {
  /** Empty where the table has no such column. */
  readonly text: (row: Row, role: ColumnRole) => string;
  /** By the unit that was given, that of the cell, of the column's head, or of the table; else millimetres. */
  readonly lengthMm: (row: Row, role: ColumnRole) => number;
  /** As the table counts it; 0 where none is written. */
  readonly angleDeg: (row: Row) => number;
  /** Top where none is written. */
  readonly side: (row: Row) => Region["side"];
  readonly place: (row: Row, role: ColumnRole) => FilePlace;
  /** Make an error about a cell. */
  readonly fault: (problem: string, place: FilePlace) => ToolError;
  /** False once a length was read whose unit nothing states. */
  readonly isUnitStated: () => boolean;
}

/** Make a reader of the cells of a table.
 *  All of it throws ToolError E_IMPORT_CELL with line and column for a cell that is not what its column holds, and for
 *  numbers with decimal comma and decimal point in one table.
 *  @param given unit of all lengths, whatever the table says. */
export function cellReader(table: CentroidTable, given: LengthUnit | undefined, file: string): CellReader {
  const { columns, mirror } = table.head;
  const checkDecimals = decimalCheck(file);
  let unitStated = true;
  const text = (row: Row, role: ColumnRole): string => {
    const column = columns[role];
    return column === undefined ? "" : (row.cells[column.index]?.text ?? "");
  };
  const shown = (row: Row, role: ColumnRole): string => {
    const words = text(row, role).slice(0, 40);
    return words === "" ? "nothing" : `"${words}"`;
  };
  const place = (row: Row, role: ColumnRole): FilePlace => {
    const cell = row.cells[columns[role]!.index];
    return cell === undefined ? { line: row.line } : { line: row.line, column: cell.column };
  };
  const fault = (problem: string, at: FilePlace): ToolError =>
    new ToolError("E_IMPORT_CELL", {
      problem,
      fix: "Correct the cell, or export the table anew",
      place: { file, ...at },
    });
  const numberAt = (row: Row, role: ColumnRole): CellNumber => {
    const number = readNumber(text(row, role));
    if (number === null) {
      const what = role === "rotation" ? "an angle" : `a number for ${role}`;
      throw fault(`${what} was expected, found ${shown(row, role)}`, place(row, role));
    }
    checkDecimals(text(row, role), number, place(row, role));
    return number;
  };
  const lengthMm = (row: Row, role: ColumnRole): number => {
    const { value, suffix } = numberAt(row, role);
    const inCell = suffix === "" ? null : suffix === '"' ? "inch" : lengthUnitOf(suffix);
    if (suffix !== "" && inCell === null) {
      throw fault(
        `a length in mm, mil, inch or um was expected, found ${shown(row, role)}`,
        place(row, role),
      );
    }
    const stated = given ?? inCell ?? columns[role]?.unit ?? table.unit;
    if (stated === null) unitStated = false;
    return value * MM_PER_UNIT[stated ?? "mm"];
  };
  const angleDeg = (row: Row): number => {
    if (text(row, "rotation") === "") return 0;
    const { value, suffix } = numberAt(row, "rotation");
    if (/^(?:|°|deg(?:rees?)?)$/i.test(suffix)) return value;
    const found = `"${value} ${suffix.slice(0, 20)}"`;
    throw fault(`an angle in degrees was expected, found ${found}`, place(row, "rotation"));
  };
  const side = (row: Row): Region["side"] => {
    const word = text(row, "side");
    if (word === "") return "top";
    const known = sideOfWord(word) ?? (mirror ? sideOfMirror(word) : null);
    if (known !== null) return known;
    throw fault(`a side such as Top or Bottom was expected, found ${shown(row, "side")}`, place(row, "side"));
  };
  return { text, lengthMm, angleDeg, side, place, fault, isUnitStated: () => unitStated };
}

/** One mark of decimals for a whole table: with both, one of them parts thousands. */
function decimalCheck(file: string) {
  let first: { text: string; comma: boolean; line: number } | null = null;
  return (text: string, number: CellNumber, place: FilePlace): void => {
    if (!/[.,]/.test(text)) return;
    first ??= { text, comma: number.comma, line: place.line };
    if (first.comma === number.comma && !/[.,].*[.,]/.test(text)) return;
    throw new ToolError("E_IMPORT_CELL", {
      problem:
        first.text === text
          ? `one mark of decimals was expected, found "${text.slice(0, 40)}"`
          : `"${text.slice(0, 40)}" and "${first.text.slice(0, 40)}" (line ${first.line}) mark their decimals differently`,
      fix: "Write all numbers with a point, or all with a comma, and without marks for thousands",
      place: { file, ...place },
    });
  };
}
