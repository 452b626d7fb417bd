// import: a centroid table → parts with their place, angle, side and package.
import type { Region } from "../board/board-schema.js";
import { ToolError } from "../core/errors.js";
import type { ColumnRole } from "./find-columns.js";
import { lengthUnitOf } from "./find-columns.js";
import type { FilePlace } from "./finish-import.js";
import { type ImportOptions, type LengthUnit, MM_PER_UNIT } from "./import-options.js";
import { isNoPart } from "./kind-of-ref.js";
import { type CellNumber, type CentroidTable, readNumber } from "./read-table.js";
import { sideOfMirror, sideOfWord } from "./side-of-word.js";
import type { Cell, Row } from "./split-table.js";

/** A part as its row says, in the table's own directions. */
export interface CentroidPart {
  readonly ref: string;
  readonly xMm: number;
  readonly yMm: number;
  /** As the table counts it. */
  readonly rotationDeg: number;
  readonly side: Region["side"];
  readonly packageName: string;
  /** Body along x and y at no rotation, where the table has columns for it. */
  readonly sizeMm: { readonly xMm: number; readonly yMm: number } | null;
  readonly label: string;
  readonly nets: readonly string[];
  readonly place: FilePlace;
}

/** The parts of a table, and what it left open. */
export interface CentroidParts {
  readonly parts: readonly CentroidPart[];
  /** Marks and holes that are no parts. */
  readonly leftOut: readonly string[];
  readonly unit: LengthUnit;
  /** False if nothing stated the unit. */
  readonly unitStated: boolean;
  readonly sideStated: boolean;
}

/** Read the rows of a table. Rows without a designator, and lines of remarks or sums under the table, are passed over
 *  only if they have no number for x or y either.
 *  @throws ToolError E_IMPORT_CELL with line and column for a cell that is no number, side or designator, and for
 *    numbers with decimal comma and decimal point in one table; E_BOARD_REF for a designator that comes twice. */
export function parseCentroids(
  table: CentroidTable,
  options: Pick<ImportOptions, "unit">,
  file: string,
): CentroidParts {
  const { columns } = table.head;
  const parts: CentroidPart[] = [];
  const leftOut: string[] = [];
  const lineOf = new Map<string, number>();
  const decimals = decimalCheck(file);
  let unitStated = true;
  let used: LengthUnit | null = null;

  const lengthOf = (row: Row, role: ColumnRole): number => {
    const { number, place } = numberAt(row, role);
    const inCell = number.suffix === "" ? null : number.suffix === '"' ? "inch" : lengthUnitOf(number.suffix);
    if (number.suffix !== "" && inCell === null) {
      throw badCell(`a length in mm, mil, inch or um was expected, found "${shown(row, role)}"`, place);
    }
    const stated = inCell ?? columns[role]?.unit ?? table.unit;
    const unit = options.unit ?? stated ?? "mm";
    if (options.unit === undefined && stated === null) unitStated = false;
    if (role === "x") used ??= unit;
    return number.value * MM_PER_UNIT[unit];
  };
  const numberAt = (row: Row, role: ColumnRole): { number: CellNumber; place: FilePlace } => {
    const place = placeOf(row, columns[role]!.index);
    const number = readNumber(textAt(row, role));
    if (number === null) {
      const what = role === "rotation" ? "an angle" : `a number for ${role}`;
      throw badCell(`${what} was expected, found ${shownOrNothing(row, role)}`, place);
    }
    decimals(textAt(row, role), number, place);
    return { number, place };
  };
  const textAt = (row: Row, role: ColumnRole): string => {
    const column = columns[role];
    return column === undefined ? "" : (row.cells[column.index]?.text ?? "");
  };
  const shown = (row: Row, role: ColumnRole): string => textAt(row, role).slice(0, 40);
  const shownOrNothing = (row: Row, role: ColumnRole): string => {
    const text = shown(row, role);
    return text === "" ? "nothing" : `"${text}"`;
  };
  const badCell = (problem: string, place: FilePlace): ToolError =>
    new ToolError("E_IMPORT_CELL", {
      problem,
      fix: "Correct the cell, or export the table anew",
      place: { file, ...place },
    });

  const sideAt = (row: Row): Region["side"] => {
    const text = textAt(row, "side");
    if (text === "") return "top";
    const side = sideOfWord(text) ?? (table.head.mirror ? sideOfMirror(text) : null);
    if (side !== null) return side;
    throw badCell(
      `a side such as Top or Bottom was expected, found "${shown(row, "side")}"`,
      placeOf(row, columns.side!.index),
    );
  };

  for (const row of table.rows) {
    const ref = textAt(row, "ref");
    const isRemark = ref === "" || /^#/.test(row.cells[0]?.text ?? "") || row.cells.length <= 2;
    const isPlaced = readNumber(textAt(row, "x")) !== null && readNumber(textAt(row, "y")) !== null;
    if (isRemark && !isPlaced) continue;
    const place = placeOf(row, columns.ref!.index);
    if (ref === "") throw badCell("a designator was expected, found nothing", place);
    if (isNoPart(ref)) {
      leftOut.push(ref);
      continue;
    }
    const before = lineOf.get(ref.toUpperCase());
    if (before !== undefined) {
      throw new ToolError("E_BOARD_REF", {
        problem: `the part ${ref} is already on line ${before}`,
        fix: "Export one board of the panel alone, or give every part a designator of its own",
        place: { file, ...place },
      });
    }
    lineOf.set(ref.toUpperCase(), row.line);
    parts.push({
      ref,
      xMm: lengthOf(row, "x"),
      yMm: lengthOf(row, "y"),
      rotationDeg: textAt(row, "rotation") === "" ? 0 : angleOf(numberAt(row, "rotation"), badCell),
      side: sideAt(row),
      packageName: textAt(row, "package"),
      sizeMm:
        textAt(row, "sizeX") === "" || textAt(row, "sizeY") === ""
          ? null
          : { xMm: lengthOf(row, "sizeX"), yMm: lengthOf(row, "sizeY") },
      label: textAt(row, "label"),
      nets: textAt(row, "nets")
        .split(/[\s,;]+/)
        .filter((net) => net !== ""),
      place,
    });
  }
  return { parts, leftOut, unit: used ?? "mm", unitStated, sideStated: columns.side !== undefined };
}

function placeOf(row: Row, index: number): FilePlace {
  const cell: Cell | undefined = row.cells[index];
  return cell === undefined ? { line: row.line } : { line: row.line, column: cell.column };
}

function angleOf(
  { number, place }: { number: CellNumber; place: FilePlace },
  bad: (problem: string, place: FilePlace) => ToolError,
): number {
  if (/^(?:|°|deg(?:rees?)?)$/i.test(number.suffix)) return number.value;
  throw bad(`an angle in degrees was expected, found "${number.value} ${number.suffix.slice(0, 20)}"`, place);
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
