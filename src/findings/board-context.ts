// findings: a board that is known → the map and how a frame sees it, together.
import type { BoardMap } from "../board/board-schema.js";
import type { PlacedView } from "../board/place-view.js";

/** Where a board is known: the map and how the frame sees it. */
export interface BoardContext {
  readonly board: BoardMap;
  readonly view: PlacedView;
}
