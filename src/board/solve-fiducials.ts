// board: the fiducials of a view → the best transform of the model that their number allows.
import { type ErrorPlace, ToolError } from "../core/errors.js";
import type { View } from "./board-schema.js";
import { fitAffine } from "./fit-affine.js";
import { fitHomography } from "./fit-homography.js";
import { fitSimilarity } from "./fit-similarity.js";
import { composeHomographies, type PlaneFit, planeFit } from "./plane-transform.js";
import type { Point } from "./polygon.js";

/** What a view's fiducials can fix. */
export type ViewModel = "similarity" | "affine" | "homography";

/** A transform from board mm to frame px, not yet judged. */
export interface SolvedFiducials {
  readonly model: ViewModel;
  readonly fit: PlaneFit;
  /** True if the fiducials are just enough, so that residuals say nothing. */
  readonly exact: boolean;
}

/** Fit the model that the number of fiducials allows: 2 similarity, 3 affine, 4 and more homography.
 *  @throws ToolError E_VIEW_FIT if no such transform exists. */
export function solveFiducials(view: View, file?: string): SolvedFiducials {
  const board = view.fiducials.map((fiducial) => fiducial.board);
  const pixels = view.fiducials.map((fiducial) => fiducial.pixel);
  const n = board.length;
  if (n === 2) {
    return { model: "similarity", fit: fitSidedSimilarity(board, pixels, view.side), exact: true };
  }
  try {
    if (n === 3) return { model: "affine", fit: fitAffine(board, pixels), exact: true };
    return { model: "homography", fit: fitHomography(board, pixels), exact: n === 4 };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const place: ErrorPlace = { file, path: "fiducials" };
    throw new ToolError("E_VIEW_FIT", {
      problem: `no view of a flat board sends these ${n} fiducials to these pixels (${error.message})`,
      fix: "Check each fiducial's board point against its pixel",
      place,
    });
  }
}

/** Fit the similarity of a side: a view of the bottom mirrors, one of the top does not. */
export function fitSidedSimilarity(
  board: readonly Point[],
  pixels: readonly Point[],
  side: View["side"],
): PlaneFit {
  if (side === "top") return fitSimilarity(board, pixels);
  const flipped = board.map(([x, y]): Point => [-x, y]);
  const matrix = composeHomographies(fitSimilarity(flipped, pixels).matrix, [-1, 0, 0, 0, 1, 0, 0, 0, 1]);
  return planeFit(matrix, board, pixels);
}
