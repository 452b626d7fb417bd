// board: a view and the map it lays over a frame → an error if the two are in different units of length.
import { ToolError } from "../core/errors.js";
import type { BoardMap, View } from "./board-schema.js";
import { boundsOf, type Point } from "./polygon.js";

/** Times by which the fiducials' points are too small where one of the two files is in another unit, and which. A map
 *  in mils is refused for its size. */
const UNITS = [
  { times: 25.4, says: "the view looks as if it were in inches" },
  { times: 1 / 25.4, says: "the map looks as if it were in inches" },
  { times: 0.0254, says: "the view looks as if it were in mils" },
] as const;
/** In the right unit fiducials span at least this share of the board, as those do that are spread over it … */
const LEAST_SPAN = 0.5;
/** … and lie on it, but for this share of its size: holes of a frame beside it, and slips of a few millimetres. */
const MOST_BESIDE = 0.1;
/** Frames of close-up lenses show a few hundredths of a millimetre a pixel (common practice, no source): such a frame
 *  of a corner can lie so that it would fit another unit. Finer ones are taken for what another unit makes. */
const FINEST_MM_PER_PX = 0.03;
/** … and however few pixels a frame has, it shows at least this, mm (common practice, no source). */
const SMALLEST_FRAME_MM = 5;

/** Check that the points of a view's fiducials are in the unit of the map, by where they lie on the board. Fiducials
 *  that are all near each other can be right, of a frame that shows a corner of the board: it is their being right in
 *  another unit that is refused, in a frame finer than close-up lenses make.
 *  @param file name of the view's file, for the error.
 *  @throws ToolError E_VIEW_FIT if the points are 25.4 times too small or too large or 39.4 times too large, and right
 *  otherwise. */
export function checkViewUnit(view: View, board: BoardMap, file: string): void {
  const points = view.fiducials.map(({ board: point }): Point => point);
  const span = extentOf(points);
  const size = extentOf(board.outline);
  // Smaller and larger ones alike: fiducials that span the board as they are need no other unit.
  if (span >= LEAST_SPAN * size && liesOn(points, board.outline)) return;
  const spanPx = extentOf(view.fiducials.map(({ pixel }): Point => pixel));
  const framePx = Math.max(view.frame.width, view.frame.height);
  const isFine = span < Math.max(FINEST_MM_PER_PX, SMALLEST_FRAME_MM / framePx) * spanPx;
  const offBy = (times: number): number => Math.abs(Math.log((times * span) / size));
  const [unit] = UNITS.filter(({ times }) => {
    const scaled = points.map(([x, y]): Point => [times * x, times * y]);
    return (times < 1 || isFine) && times * span >= LEAST_SPAN * size && liesOn(scaled, board.outline);
  }).sort((a, b) => offBy(a.times) - offBy(b.times));
  if (unit === undefined) return;
  throw new ToolError("E_VIEW_FIT", {
    problem: `the fiducials span ${text(span)} mm of a board of ${text(size)} mm; times ${text(unit.times)} they would span it: ${unit.says}`,
    fix: "Give the points of both in millimetres: an inch has 25.4, a mil 0.0254",
    place: { file, path: "fiducials" },
  });
}

function extentOf(points: readonly Point[]): number {
  const { minX, minY, maxX, maxY } = boundsOf(points);
  return Math.max(maxX - minX, maxY - minY);
}

function liesOn(points: readonly Point[], outline: readonly Point[]): boolean {
  const around = boundsOf(outline);
  const room = MOST_BESIDE * extentOf(outline);
  const own = boundsOf(points);
  return (
    own.minX >= around.minX - room &&
    own.minY >= around.minY - room &&
    own.maxX <= around.maxX + room &&
    own.maxY <= around.maxY + room
  );
}

const text = (value: number): string => String(Number(value.toPrecision(3)));
