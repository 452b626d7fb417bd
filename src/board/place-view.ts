// board: fiducials → the transform between board millimetres and frame pixels.
import type { BoardPoint, FramePoint } from "../core/units.js";

/** A view whose transform has been solved. */
export interface PlacedView {
  readonly side: "top" | "bottom";
  readonly model: "similarity" | "affine" | "homography";
  /** Board mm → frame px, 3×3 row-major, last element 1. */
  readonly matrix: readonly number[];
  readonly toFrame: (point: BoardPoint) => FramePoint;
  readonly toBoard: (point: FramePoint) => BoardPoint;
  /** Local scale at a frame point: √|det J| of frame → board, mm per px. */
  readonly mmPerPxAt: (point: FramePoint) => number;
  /** Root mean square distance of the fiducials from their images, px; 0 where the model is exact. */
  readonly residualPx: number;
}
