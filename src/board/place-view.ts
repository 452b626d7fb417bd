// board: fiducials → the transform between board millimetres and frame pixels.
import { type BoardPoint, boardPoint, type FramePoint, framePoint } from "../core/units.js";
import type { View } from "./board-schema.js";
import { checkFiducials } from "./check-fiducials.js";
import { checkPlacement } from "./check-placement.js";
import { clickCovariance } from "./click-covariance.js";
import type { PlaceCovariance } from "./frame-covariance-to-board.js";
import { PLACE_DEFAULTS, type PlaceOptions } from "./place-defaults.js";
import { applyHomography, invertHomography, jacobianAt, type Matrix3 } from "./plane-transform.js";
import { solveFiducials, type ViewModel } from "./solve-fiducials.js";

/** A view whose transform has been solved. */
export interface PlacedView {
  readonly side: "top" | "bottom";
  readonly model: ViewModel;
  /** Board mm → frame px, 3×3 row-major, last element 1. */
  readonly matrix: readonly number[];
  readonly toFrame: (point: BoardPoint) => FramePoint;
  readonly toBoard: (point: FramePoint) => BoardPoint;
  /** Local scale at a frame point: √|det J| of frame → board, mm per px. */
  readonly mmPerPxAt: (point: FramePoint) => number;
  /** Root mean square distance of the fiducials from their images, px; 0 where the model is exact. */
  readonly residualPx: number;
  /** How unsure the fiducials' own error leaves the image of the board at a frame point, px². */
  readonly covarianceAt: (point: FramePoint) => PlaceCovariance;
}

/** Solve a view: two fiducials give a similarity, three an affine transform, four and more a homography.
 *  Two fiducials do not say whether the view mirrors: the side does (top: it does not, bottom: it does). Three and
 *  more must agree with the side. The residual is of pixels, so a model without spare equations reports 0.
 *  Lens distortion is not modelled.
 *  Method: `fitSimilarity`, `fitAffine`, `fitHomography`.
 *  @param view as read by `parseView`.
 *  @param options the file's name for the errors, and other limits than those of `PLACE_DEFAULTS`.
 *  @throws ToolError E_VIEW_FRAME if a fiducial lies far outside the frame, E_VIEW_FIDUCIALS if fiducials repeat a
 *  place or lie on one line, E_VIEW_FIT if they contradict each other, E_VIEW_SIDE if they show the other side. */
export function placeView(view: View, options: PlaceOptions = {}): PlacedView {
  const limits = { ...PLACE_DEFAULTS, ...options };
  checkFiducials(view, limits);
  const solved = solveFiducials(view, limits.file);
  checkPlacement(view, solved, limits);
  const pixels = view.fiducials.map(({ pixel }) => pixel);
  return {
    ...placedView(view.side, solved.model, solved.fit.matrix),
    residualPx: solved.exact ? 0 : solved.fit.rmsResidual,
    covarianceAt: clickCovariance(solved, pixels),
  };
}

function placedView(
  side: PlacedView["side"],
  model: ViewModel,
  matrix: Matrix3,
): Omit<PlacedView, "residualPx" | "covarianceAt"> {
  const inverse = invertHomography(matrix);
  return {
    side,
    model,
    matrix,
    toFrame: (point) => framePoint(...applyHomography(matrix, point)),
    toBoard: (point) => boardPoint(...applyHomography(inverse, point)),
    mmPerPxAt: (point) => {
      const [a, b, c, d] = jacobianAt(inverse, point);
      return Math.sqrt(Math.abs(a * d - b * c));
    },
  };
}
