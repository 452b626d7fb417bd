// board: how unsure a place is in the frame → how unsure it is on the board.
import type { FramePoint } from "../core/units.js";
import type { PlacedView } from "./place-view.js";
import { invertHomography, jacobianAt } from "./plane-transform.js";

/** Variances and covariance of a place: px² in the frame, mm² on the board. */
export interface PlaceCovariance {
  readonly xx: number;
  readonly xy: number;
  readonly yy: number;
}

/** Carry the covariance of a frame point over to the board, to first order: J Σ Jᵀ.
 *  The error of the view itself is not in it: that is `covarianceAt` of the view, carried over alike.
 *  @param covariance px².
 *  @returns mm², and `sigmaMm`: the root of the mean variance over all directions, as `sigmaPx` in the frame. */
export function frameCovarianceToBoard(
  view: PlacedView,
  point: FramePoint,
  covariance: PlaceCovariance,
): PlaceCovariance & { readonly sigmaMm: number } {
  const [a, b, c, d] = jacobianAt(invertHomography(view.matrix), point);
  const { xx, xy, yy } = covariance;
  const boardXx = a * a * xx + 2 * a * b * xy + b * b * yy;
  const boardXy = a * c * xx + (a * d + b * c) * xy + b * d * yy;
  const boardYy = c * c * xx + 2 * c * d * xy + d * d * yy;
  return { xx: boardXx, xy: boardXy, yy: boardYy, sigmaMm: Math.sqrt((boardXx + boardYy) / 2) };
}
