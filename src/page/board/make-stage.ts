// page: a board and how a frame sees it → the plane that the answer is drawn on, in board millimetres or, without a
// board, in pixels of the frame.
import type { BoardMap, View } from "../../board/board-schema.js";
import { placeView } from "../../board/place-view.js";
import { applyHomography, type Matrix3 } from "../../board/plane-transform.js";
import { boundsOf, type Point } from "../../board/polygon.js";

/** The plane that is drawn on. */
export interface Stage {
  readonly unit: "mm" | "px";
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  /** Drawn with x to the left, as the bottom of a board is seen. */
  readonly isMirrored: boolean;
  readonly side: "top" | "bottom" | null;
  /** Plane → frame px. */
  readonly matrix: Matrix3;
  /** Outline of the board, mm; null without a board. */
  readonly outline: readonly Point[] | null;
}

/** Room around the board, as a share of its longer side: a hand or a cable at the edge is seen, too. */
const MARGIN = 0.04;
const SAME: Matrix3 = [1, 0, 0, 0, 1, 0, 0, 0, 1];

/** Make the plane of an attempt's view. The board stays put on it wherever the camera stood.
 *  @throws ToolError as `placeView`.
 */
export function makeStage(
  board: BoardMap | null,
  view: View | null,
  frame: { readonly width: number; readonly height: number },
): Stage {
  if (board === null || view === null) {
    const { width, height } = frame;
    return {
      unit: "px",
      left: -0.5,
      top: -0.5,
      width,
      height,
      isMirrored: false,
      side: null,
      matrix: SAME,
      outline: null,
    };
  }
  const { minX, minY, maxX, maxY } = boundsOf(board.outline);
  const margin = MARGIN * Math.max(maxX - minX, maxY - minY);
  return {
    unit: "mm",
    left: minX - margin,
    top: minY - margin,
    width: maxX - minX + 2 * margin,
    height: maxY - minY + 2 * margin,
    isMirrored: view.side === "bottom",
    side: view.side,
    matrix: placeView(view).matrix,
    outline: board.outline,
  };
}

/** Map a place of the plane to frame pixels. */
export function stageToFrame(stage: Stage, point: Point): Point {
  return applyHomography(stage.matrix, point);
}

/** Where the plane lies on the screen. */
export interface Fit {
  /** Screen pixels for a unit of the plane. */
  readonly scale: number;
  /** Corner of the plane on the screen. */
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Fit the plane into a box on the screen, in its middle. */
export function fitStage(
  stage: Stage,
  box: { readonly x: number; readonly y: number; readonly width: number; readonly height: number },
): Fit {
  const scale = Math.max(0.01, Math.min(box.width / stage.width, box.height / stage.height));
  const width = stage.width * scale;
  const height = stage.height * scale;
  return { scale, width, height, x: box.x + (box.width - width) / 2, y: box.y + (box.height - height) / 2 };
}

/** Map a place of the plane to the screen. */
export function stageToScreen(stage: Stage, fit: Fit, [x, y]: Point): Point {
  const across = (x - stage.left) * fit.scale;
  return [fit.x + (stage.isMirrored ? fit.width - across : across), fit.y + (y - stage.top) * fit.scale];
}

/** Map a place of the screen to the plane. */
export function screenToStage(stage: Stage, fit: Fit, [x, y]: Point): Point {
  const across = stage.isMirrored ? fit.width - (x - fit.x) : x - fit.x;
  return [stage.left + across / fit.scale, stage.top + (y - fit.y) / fit.scale];
}
