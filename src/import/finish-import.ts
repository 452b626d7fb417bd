// import: outline and regions with the places they came from → a checked board map, or an error that names the place.
import type { BoardMap, Region } from "../board/board-schema.js";
import { checkBoard } from "../board/check-board.js";
import { asDoubt } from "../board/check-board-polygons.js";
import { withoutRepeats } from "../board/without-repeats.js";
import { ToolError } from "../core/errors.js";
import { problemNotes } from "../core/json-problem.js";
import type { Note } from "../core/notes.js";
import { IMPORT_LIMITS } from "./import-options.js";

/** Line and column of a file, 1-based. */
export interface FilePlace {
  readonly line: number;
  readonly column?: number | undefined;
}

/** Check what was imported by the rules for board maps.
 *  @param places where each region came from, in the order of the regions.
 *  @returns the map without repeated corners, and notes on what is doubtful.
 *  @throws ToolError of the first thing that is wrong, with the line it came from. */
export function finishImport(
  map: BoardMap,
  places: readonly FilePlace[],
  file: string,
): { board: BoardMap; notes: Note[] } {
  const simple = (polygon: Region["polygon"]): [number, number][] => {
    const { corners } = withoutRepeats(polygon);
    // Fewer corners than a triangle has stay as they are, so that the check can word what is wrong.
    return (corners.length < 3 ? polygon : corners).map(([x, y]): [number, number] => [x, y]);
  };
  const board: BoardMap = {
    ...map,
    outline: simple(map.outline),
    regions: map.regions.map((region) => ({ ...region, polygon: simple(region.polygon) })),
  };
  const problems = checkBoard(board).map(asDoubt);
  const error = problems.find((problem) => problem.severity === "error");
  if (error?.severity === "error") {
    const index = /^regions\[(\d+)\]/.exec(error.path)?.[1];
    const place = index === undefined ? undefined : places[Number(index)];
    throw new ToolError(error.code, {
      problem: error.text,
      fix: error.fix,
      place: { file, line: place?.line, column: place?.column },
    });
  }
  return { board, notes: problemNotes(problems, file) };
}

/** Refuse a file that is larger than any board.
 *  @throws ToolError E_IMPORT_LARGE if a count is over its limit. */
export function refuseLarge(what: keyof typeof IMPORT_LIMITS, count: number, file: string): void {
  const limit = IMPORT_LIMITS[what];
  if (count <= limit) return;
  const names = {
    bytes: "bytes",
    parts: "parts",
    columns: "columns",
    letters: "letters in a cell",
    depth: "elements inside each other",
    points: "corners",
  };
  throw new ToolError("E_IMPORT_LARGE", {
    problem: `at most ${limit} ${names[what]} are read, found ${what === "depth" ? "more" : count}`,
    fix: "Check that this is the right file, and export the board alone",
    place: { file },
  });
}
