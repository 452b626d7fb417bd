// board: parsed JSON → a board map that can be relied on, and notes on what is doubtful in it.
import { problemNotes } from "../core/json-problem.js";
import type { Note } from "../core/notes.js";
import { problemsError } from "../core/problems-error.js";
import { type BoardMap, boardMapSchema } from "./board-schema.js";
import { checkBoard } from "./check-board.js";
import { withoutRepeats } from "./without-repeats.js";

/** Parse a board map. Corners that repeat the one before are left out, with a note.
 *  @param file name of the file, for errors and notes.
 *  @returns the map, and a note for every warning of `checkBoard`.
 *  @throws ToolError E_BOARD_KIND, E_BOARD_VALUE, E_BOARD_POLYGON, E_BOARD_REF or E_BOARD_OUTSIDE, by the first error
 *  of `checkBoard`; the message lists up to three. */
export function parseBoardMap(value: unknown, file: string): { board: BoardMap; notes: Note[] } {
  const problems = checkBoard(value);
  const error = problemsError(problems, { file }, "Run faultglow board check to list them all");
  if (error !== null) throw error;
  const board = boardMapSchema.parse(value);
  const simple = (polygon: BoardMap["outline"]) =>
    withoutRepeats(polygon).corners.map(([x, y]): [number, number] => [x, y]);
  return {
    board: {
      ...board,
      outline: simple(board.outline),
      regions: board.regions.map((region) => ({ ...region, polygon: simple(region.polygon) })),
    },
    notes: problemNotes(problems, file),
  };
}
