// import: a centroid table → parts with their place, angle, side and package.
import type { Region } from "../board/board-schema.js";
import { ToolError } from "../core/errors.js";
import { type CellReader, cellReader } from "./centroid-cells.js";
import type { FilePlace } from "./finish-import.js";
import type { ImportOptions } from "./import-options.js";
import { isNoPart } from "./kind-of-ref.js";
import { type CentroidTable, readNumber } from "./read-table.js";
import type { Row } from "./split-table.js";

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
  const cells = cellReader(table, options.unit, file);
  const parts: CentroidPart[] = [];
  const leftOut: string[] = [];
  const lineOf = new Map<string, number>();
  for (const row of table.rows) {
    const ref = cells.text(row, "ref");
    const isRemark = ref === "" || /^#/.test(row.cells[0]?.text ?? "") || row.cells.length <= 2;
    const isPlaced = readNumber(cells.text(row, "x")) !== null && readNumber(cells.text(row, "y")) !== null;
    if (isRemark && !isPlaced) continue;
    const place = cells.place(row, "ref");
    if (ref === "") throw cells.fault("a designator was expected, found nothing", place);
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
    parts.push(partOf(row, ref, place, cells));
  }
  const sideStated = table.head.columns.side !== undefined;
  return { parts, leftOut, unitStated: cells.isUnitStated(), sideStated };
}

function partOf(row: Row, ref: string, place: FilePlace, cells: CellReader): CentroidPart {
  const hasSize = cells.text(row, "sizeX") !== "" && cells.text(row, "sizeY") !== "";
  return {
    ref,
    xMm: cells.lengthMm(row, "x"),
    yMm: cells.lengthMm(row, "y"),
    rotationDeg: cells.angleDeg(row),
    side: cells.side(row),
    packageName: cells.text(row, "package"),
    sizeMm: hasSize ? { xMm: cells.lengthMm(row, "sizeX"), yMm: cells.lengthMm(row, "sizeY") } : null,
    label: cells.text(row, "label"),
    nets: cells
      .text(row, "nets")
      .split(/[\s,;]+/)
      .filter((net) => net !== ""),
    place,
  };
}
