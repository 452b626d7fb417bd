// store: what was said of the board, and the boards of the job → the map that an attempt is analysed with.
import { basename } from "node:path";
import { parseBoardMap } from "../board/parse-board-map.js";
import { ToolError } from "../core/errors.js";
import type { Note } from "../core/notes.js";
import type { JobBoard } from "../job/job.js";
import { isThere } from "../read/is-there.js";
import { readJsonFile } from "../read/read-json-file.js";

/** A map as it was chosen. */
export interface ChosenBoard {
  readonly name: string;
  /** What the map's file was called. */
  readonly file: string;
  readonly sha256: string;
  readonly bytes: Uint8Array;
  /** Parsed JSON, not yet a map. */
  readonly value: unknown;
  readonly notes: readonly Note[];
}

/** Read a map that is new to a job. Its name is the one in it, else that of its file.
 *  @throws ToolError those of `readJsonFile` and `parseBoardMap`.
 */
export async function readNewBoard(file: string): Promise<ChosenBoard> {
  const { value, sha256, bytes } = await readJsonFile(file);
  const { board, notes } = parseBoardMap(value, file);
  const short = basename(file);
  const named = board.name?.trim() ?? "";
  const name = named === "" ? short.replace(/\.json$/i, "") : named;
  return { name, file: short, sha256, bytes, value, notes };
}

/** Choose the board of an attempt: by its name in the job, by a file, or, where the job has one board only, that one.
 *  A file that is new to the job becomes a board of it, or the correction of the one that has its name.
 *  @param word name or file; undefined if nothing was said.
 *  @param read gives the bytes of a map that the job has.
 *  @throws ToolError E_JOB_BOARD if it is not clear which board is meant.
 */
export async function chooseBoard(
  word: string | undefined,
  boards: readonly JobBoard[],
  read: (sha256: string) => Promise<Uint8Array>,
): Promise<ChosenBoard> {
  const newest = new Map(boards.map((board) => [board.name, board]));
  const names = [...newest.keys()];
  if (word === undefined && names.length !== 1) {
    throw boardError(
      names.length === 0
        ? "a view was given, but the job has no board map"
        : `the job has ${names.length} boards and nothing says which one this is`,
      names.length === 0 ? "Add --board FILE" : `Add --board with one of: ${names.join(", ")}`,
    );
  }
  const known = newest.get(word ?? names[0]!);
  if (known !== undefined) {
    const { name, file, sha256 } = known;
    const bytes = await read(sha256);
    return { name, file, sha256, bytes, value: JSON.parse(new TextDecoder().decode(bytes)), notes: [] };
  }
  if (!(await isThere(word!))) {
    const has = names.length === 0 ? "none" : names.join(", ");
    throw boardError(
      `"${word}" is neither a board of the job nor a file; the job's boards: ${has}`,
      "Give the name of a board of the job, or the file of a map",
    );
  }
  const fresh = await readNewBoard(word!);
  // The very file was taken in before: it goes by the name that it has in the job.
  const same = boards.find((board) => board.sha256 === fresh.sha256);
  return same === undefined ? fresh : { ...fresh, name: same.name, file: same.file };
}

function boardError(problem: string, fix: string): ToolError {
  return new ToolError("E_JOB_BOARD", { problem, fix });
}
