// findings: one view of an attempt, prepared: what the stages that join two views pass on.
import type { BoardMap } from "../board/board-schema.js";
import type { Frame } from "../frames/frame.js";
import type { DetectedPatches } from "../hotspots/detect-patches.js";
import type { BoardContext } from "./board-context.js";
import type { ViewName } from "./findings-schema.js";
import type { PreparedPair } from "./prepare-pair.js";

/** One view: its frames brought together, and what stands out in them. */
export interface SeenView {
  readonly name: ViewName;
  readonly baseline: readonly Frame[];
  readonly powered: readonly Frame[];
  readonly rateHz: number | null;
  /** Frames a second, where the powered frames are a burst from power-on. */
  readonly burstRateHz: number | null;
  readonly pair: PreparedPair;
  readonly detected: DetectedPatches;
  readonly placed: PlacedBoard | null;
}

/** Where a board is known: how it lies in the frame. */
export interface PlacedBoard extends BoardContext {
  /** 1 = a pixel that a blurred, slightly misplaced outline can't reach. */
  readonly offBoard: Uint8Array;
  /** Which part, shiny by the map, lies at which pixel. */
  readonly shiny: ReadonlyMap<number, string>;
}

/** A view of a board that is known. */
export interface BoardView extends SeenView {
  readonly placed: PlacedBoard;
}

/** Views of a board, the first of them the primary one; null where no board is known. */
export function boardViews(views: readonly SeenView[]): { board: BoardMap; views: BoardView[] } | null {
  const placed = views.flatMap((view) => (view.placed === null ? [] : { ...view, placed: view.placed }));
  const first = placed[0];
  return first === undefined || placed.length < views.length
    ? null
    : { board: first.placed.board, views: placed };
}

/** The sides of the board that views show. */
export function sidesOf(views: readonly BoardView[]): ReadonlySet<"top" | "bottom"> {
  return new Set(views.map(({ placed }) => placed.view.side));
}

/** What to call a view in a sentence: by its side, or by its order where both show the same one. */
export function viewWords(views: readonly SeenView[], name: ViewName): string {
  const sides = views.map(({ placed }) => placed?.view.side);
  const side = sides[views.findIndex((view) => view.name === name)];
  if (side === undefined || new Set(sides).size < views.length) {
    return name === "primary" ? "first view" : "second view";
  }
  return `${side} view`;
}
