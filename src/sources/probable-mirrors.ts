// sources: a board and its candidates → the board with the faces that the baseline shows to be mirrors told as bare
// metal.
import type { BoardMap } from "../board/board-schema.js";
import { FIRST_INNER_SHAPE } from "./mirror-shapes.js";
import { isProbablyShiny } from "./mirrored-share.js";
import type { SourceModel } from "./source-model.js";

/** Tell the parts of unstated finish for bare metal that probably are: a face that mirrors shows nothing of its own
 *  heat, and as the face of a part that heats a picture of the room bends all that is fitted with it. One of few pixels
 *  shows no picture, and its step in the baseline is less sure.
 *  @param model of that board, with the chance that each candidate mirrors.
 *  @returns the board itself where there is none.
 */
export function withProbableMirrors(
  board: BoardMap,
  model: Pick<SourceModel, "candidates" | "mirrorColumns">,
): BoardMap {
  const mirrors = new Set(
    model.candidates
      .filter((one) => isProbablyShiny(one) && model.mirrorColumns(one).length > FIRST_INNER_SHAPE)
      .map(({ region }) => region),
  );
  if (mirrors.size === 0) return board;
  return {
    ...board,
    regions: board.regions.map((region, k) =>
      mirrors.has(k) ? { ...region, finish: "bare-metal" as const } : region,
    ),
  };
}
