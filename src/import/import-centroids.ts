// import: a centroid table (designator, x, y, angle, side, package of each part) → a board map.
import type { Region } from "../board/board-schema.js";
import { boundsOf, type Point } from "../board/polygon.js";
import { rectangleCorners } from "../board/rectangle-corners.js";
import { ToolError } from "../core/errors.js";
import { type Note, note } from "../core/notes.js";
import { finishImport } from "./finish-import.js";
import { outlineCorners } from "./given-outline.js";
import { assumed, listed } from "./import-notes.js";
import { IMPORT_DEFAULTS, type ImportedBoard, type ImportOptions } from "./import-options.js";
import { kindOfRef } from "./kind-of-ref.js";
import { type CentroidPart, type CentroidParts, parseCentroids } from "./parse-centroids.js";
import { readTable } from "./read-table.js";
import { roundMm } from "./round-mm.js";
import { type Extents, sizeParts } from "./size-parts.js";

/** Make a board map of a centroid table, as programs for drawing boards export it for placing machines.
 *  Each part becomes a rectangle of its body, turned as the table says; its kind is guessed from its designator.
 *  Board coordinates: x from the outline's left edge, y down from its upper edge, seen from the top.
 *  @param options.outline a rectangle, or a polygon in mm with y down; without it the parts with a margin.
 *  @returns the map, and notes on everything that was guessed.
 *  @throws ToolError E_IMPORT_HEADER, E_IMPORT_CELL, E_IMPORT_LARGE; E_IMPORT_PACKAGE with the list of packages of
 *    unknown size; E_IMPORT_OUTLINE if the outline is an id, which a table has none of; what `checkBoard` finds. */
export function importCentroids(text: string, file: string, options: ImportOptions = {}): ImportedBoard {
  const table = readTable(text, file);
  const read = parseCentroids(table, options, file);
  if (read.parts.length === 0) {
    throw new ToolError("E_IMPORT_CELL", {
      problem: "parts were expected below the line of heads, but there are none",
      fix: "Check that the table was exported whole",
      place: { file },
    });
  }
  const sizes = sizeParts(read.parts, options, file);
  const frame = placeOutline(read.parts, sizes.of, options, file);
  const regions = read.parts.map((part, i) => regionOf(part, sizes.of[i]!, frame, options));
  const finished = finishImport(
    { kind: "faultglow/board", version: 1, outline: frame.outline.map(([x, y]) => [x, y]), regions },
    read.parts.map((part) => part.place),
    file,
  );
  const notes = [...tableNotes(read, file), ...sizes.notes, ...frame.notes, ...finished.notes];
  return { board: finished.board, notes, from: "table" };
}

/** The outline in board coordinates, and the way from the table's coordinates to them. */
interface BoardFrame {
  readonly outline: readonly Point[];
  readonly toBoard: (xMm: number, yMm: number) => Point;
  readonly notes: Note[];
}

function placeOutline(
  parts: readonly CentroidPart[],
  sizes: readonly Extents[],
  options: ImportOptions,
  file: string,
): BoardFrame {
  const up = (options.yAxis ?? IMPORT_DEFAULTS.yAxis) === "up";
  const { outline } = options;
  if (typeof outline === "string") {
    throw new ToolError("E_IMPORT_OUTLINE", {
      problem: `a table has no shapes, so none of them can be the outline "${outline}"`,
      fix: "Give --outline WxH in mm, or a board map or SVG that has the outline",
      place: { file },
    });
  }
  if (outline !== undefined) {
    const corners = outlineCorners(outline);
    const { minX, minY, maxY } = boundsOf(corners);
    const [originX, originY] = options.originMm ?? IMPORT_DEFAULTS.originMm;
    return {
      outline: corners,
      // With y down the table's origin is taken at the corner that is uppermost.
      toBoard: (x, y) => [minX + (x - originX), up ? maxY - (y - originY) : minY + (y - originY)],
      notes: [],
    };
  }
  const reach = parts.flatMap((part, i): Point[] =>
    rectangleCorners([xOf(part, options), part.yMm], sizes[i]!.xMm, sizes[i]!.yMm, turnOf(part, options, up)),
  );
  const margin = IMPORT_DEFAULTS.marginMm;
  const { minX, minY, maxX, maxY } = boundsOf(reach);
  const size = { widthMm: roundMm(maxX - minX + 2 * margin), heightMm: roundMm(maxY - minY + 2 * margin) };
  return {
    outline: outlineCorners(size),
    toBoard: (x, y) => [x - minX + margin, up ? maxY - y + margin : y - minY + margin],
    notes: [
      assumed(
        file,
        `the table has no outline; a rectangle of ${size.widthMm} × ${size.heightMm} mm around all parts was taken. ` +
          "Watts and fiducials need the true one: give it with --outline",
      ),
    ],
  };
}

function regionOf(part: CentroidPart, size: Extents, frame: BoardFrame, options: ImportOptions): Region {
  const bounds = boundsOf(frame.outline);
  let [x, y] = frame.toBoard(xOf(part, options), part.yMm);
  if (part.side === "bottom" && options.bottomX === "mirrored") x = bounds.minX + bounds.maxX - x;
  const up = (options.yAxis ?? IMPORT_DEFAULTS.yAxis) === "up";
  // Board coordinates have y down, where an angle that grows from x to y turns clockwise.
  const turn = turnOf(part, options, up) * (up ? -1 : 1);
  const corners = rectangleCorners([x, y], size.xMm, size.yMm, turn);
  const kind = kindOfRef(part.ref);
  return {
    ref: part.ref,
    ...(part.label === "" ? {} : { label: part.label }),
    side: part.side,
    ...(kind === undefined ? {} : { kind }),
    polygon: corners.map(([px, py]): [number, number] => [roundMm(px), roundMm(py)]),
    ...(part.nets.length === 0 ? {} : { nets: [...part.nets] }),
  };
}

function xOf(part: CentroidPart, options: ImportOptions): number {
  return part.side === "bottom" && options.bottomX === "negated" ? -part.xMm : part.xMm;
}

/** The angle in the table's own plane, from +x to +y, as seen from the top. */
function turnOf(part: CentroidPart, options: ImportOptions, up: boolean): number {
  const clockwise = (options.turn ?? IMPORT_DEFAULTS.turn) === "clockwise";
  // With y up, from +x to +y is anticlockwise; with y down it is clockwise.
  const sign = clockwise === up ? -1 : 1;
  // Seen from below everything turns the other way.
  const below = part.side === "bottom" && (options.bottomX ?? IMPORT_DEFAULTS.bottomX) !== "same";
  return part.rotationDeg * sign * (below ? -1 : 1);
}

function tableNotes(read: CentroidParts, file: string): Note[] {
  const notes: Note[] = [];
  if (!read.unitStated) {
    notes.push(assumed(file, "no unit is stated; lengths were read as millimetres. Say which with --unit"));
  }
  if (!read.sideStated) {
    notes.push(assumed(file, "no column tells the side; all parts were taken to be on top"));
  }
  if (read.leftOut.length > 0) {
    notes.push(
      note("N_IMPORT_LEFT_OUT", `${file}: no parts of the board, left out: ${listed(read.leftOut)}.`),
    );
  }
  return notes;
}
