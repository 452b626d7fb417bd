// import: what may be said of a table or drawing from outside → types, and the defaults with their reasons.
import type { BoardMap } from "../board/board-schema.js";
import type { Point } from "../board/polygon.js";
import type { Note } from "../core/notes.js";

/** Units of length that tables and drawings are made in. */
const LENGTH_UNITS = ["mm", "mil", "inch", "um", "px"] as const;
/** A unit of length of a file. */
export type LengthUnit = (typeof LENGTH_UNITS)[number];

/** Millimetres in one unit. px: 1/96 inch (CSS Values and Units 3, 5.2), what SVG calls a user unit without a
 *  viewBox. */
export const MM_PER_UNIT: Readonly<Record<LengthUnit, number>> = Object.freeze({
  mm: 1,
  mil: 0.0254,
  inch: 25.4,
  um: 0.001,
  px: 25.4 / 96,
});

/** How x of the bottom side was written down. */
const BOTTOM_X = ["same", "negated", "mirrored"] as const;

/** The extent of a board that is a rectangle. */
export interface RectangleSize {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** What may be said of a file from outside. */
export interface ImportOptions {
  /** Goes before what the file says. */
  readonly unit?: LengthUnit | undefined;
  /** A rectangle, or a polygon in mm with y down; in a drawing also the id of the outline's shape. */
  readonly outline?: RectangleSize | readonly Point[] | string | undefined;
  /** Tables: where the lower left corner of the outline lies in the table's coordinates, mm. */
  readonly originMm?: Point | undefined;
  /** Tables: which way y grows. Default up, as drawings of boards have it (common practice). */
  readonly yAxis?: ("up" | "down") | undefined;
  /** Tables: which way the angle grows as seen from the top. Default anticlockwise (IEC 61188-7, from memory). */
  readonly turn?: ("anticlockwise" | "clockwise") | undefined;
  /** x of parts below: the same as above (default), its negative, or counted from the other edge of the outline. */
  readonly bottomX?: (typeof BOTTOM_X)[number] | undefined;
  /** Which codes `0402` and `0603` are read as. Default imperial, which most tables mean (common practice). */
  readonly chipCodes?: ("imperial" | "metric") | undefined;
  /** Body sizes by package name, along x and y at no rotation; they go before the table of sizes. */
  readonly sizes?: Readonly<Record<string, RectangleSize>> | undefined;
  /** Body size of packages that nothing else tells; without it they are an error. */
  readonly defaultSize?: RectangleSize | undefined;
  /** Drawings: by how much a flattened curve may miss the true one, mm. */
  readonly toleranceMm?: number | undefined;
}

/** Defaults, each with its reason. */
export const IMPORT_DEFAULTS = Object.freeze({
  originMm: Object.freeze([0, 0]) as Point,
  yAxis: "up",
  turn: "anticlockwise",
  bottomX: "same",
  chipCodes: "imperial",
  /** A hundredth of a millimetre is what drawings of boards are rounded to, and far below a pixel. */
  toleranceMm: 0.01,
  /** Added around the parts where no outline is known: parts keep about a millimetre from the edge (common
   *  practice). */
  marginMm: 1,
} as const);

/** Bounds that keep a hostile file from filling the memory; a board of a shop stays far below each. */
export const IMPORT_LIMITS = Object.freeze({
  bytes: 32 * 1024 * 1024,
  parts: 20_000,
  columns: 200,
  /** Letters of a cell of a table. */
  letters: 10_000,
  /** Elements of a drawing inside each other. */
  depth: 200,
  /** Corners of all polygons together. */
  points: 500_000,
});

/** A board map made of a file. */
export interface ImportedBoard {
  readonly board: BoardMap;
  readonly notes: Note[];
  readonly from: "table" | "svg";
}
