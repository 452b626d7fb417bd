// board: a fitted transform → an error if no camera could have seen the board like that.
import { ToolError } from "../core/errors.js";
import { formatSignificant } from "../core/format-quantity.js";
import type { View } from "./board-schema.js";
import { findSwap, findWorstFiducial } from "./find-worst-fiducial.js";
import type { PlaceLimits } from "./place-defaults.js";
import { horizonWeight, jacobianAt, type PlaneFit } from "./plane-transform.js";
import type { SolvedFiducials } from "./solve-fiducials.js";

/** Check a fitted transform against the view it was fitted to.
 *  @throws ToolError E_VIEW_FIT if fiducials contradict each other (the one that fits worst is named), E_VIEW_SIDE if
 *  the transform mirrors and the side does not, or the other way round. */
export function checkPlacement(view: View, solved: SolvedFiducials, limits: PlaceLimits): void {
  const limitPx = residualLimitPx(view, limits);
  const missPx = solved.exact ? 0 : largestMissPx(solved.fit);
  if (missPx > limitPx) {
    throw contradiction(
      view,
      `they are off by about ${formatSignificant(missPx, 2)} px, and ${formatSignificant(limitPx, 2)} px are allowed`,
      limits,
    );
  }
  const fault = faultOf(view, solved.fit, limits);
  if (fault === null) return;
  if (fault !== "mirror") throw contradiction(view, fault, limits);
  throw new ToolError("E_VIEW_SIDE", {
    problem:
      view.side === "top"
        ? "side is top, but the fiducials show the board mirrored, as only a view of the bottom does"
        : "side is bottom, but the fiducials show the board unmirrored, as only a view of the top does",
    fix: `Correct side, or the fiducials: board points are always given as seen from the top${swapHint(view, limits)}`,
    place: { file: limits.file, path: "side" },
  });
}

function contradiction(view: View, how: string, limits: PlaceLimits): ToolError {
  const worst = findWorstFiducial(view);
  return new ToolError("E_VIEW_FIT", {
    problem: `the fiducials contradict each other: ${how}; fiducials[${worst.index}] fits worst, ${formatSignificant(worst.missPx, 2)} px from where the others put it`,
    fix: `Correct fiducials[${worst.index}] or leave it out${swapHint(view, limits)}`,
    place: { file: limits.file, path: `fiducials[${worst.index}]` },
  });
}

function swapHint(view: View, limits: PlaceLimits): string {
  const believable = (other: View, fit: PlaneFit) =>
    (fit.residuals.length < 5 || largestMissPx(fit) <= residualLimitPx(other, limits)) &&
    faultOf(other, fit, limits) === null;
  const swap = findSwap(view, believable);
  return swap === null ? "" : `; the pixels of fiducials[${swap[0]}] and fiducials[${swap[1]}] look swapped`;
}

function residualLimitPx(view: View, limits: PlaceLimits): number {
  const diagonal = Math.hypot(view.frame.width, view.frame.height);
  return Math.max(limits.maxResidualPx, limits.maxResidualShare * diagonal);
}

/** The worst residual of a homography, or the root mean square error of a fiducial as the spare equations show it,
 *  whichever is larger: with five fiducials a fit bends most of a gross error away, and residuals alone are small. */
function largestMissPx(fit: PlaneFit): number {
  const n = fit.residuals.length;
  const spare = 2 * n - 8;
  return Math.max(...fit.residuals, fit.rmsResidual * Math.sqrt((2 * n) / spare));
}

/** What no camera can do, in words; "mirror" if only the side is wrong; null if nothing is. */
function faultOf(view: View, fit: PlaneFit, limits: PlaceLimits): string | null {
  const board = view.fiducials.map((fiducial) => fiducial.board);
  const weights = board.map((point) => horizonWeight(fit.matrix, point));
  if (weights.every((weight) => weight < 0)) {
    return "the board's origin would lie behind the camera";
  }
  if (weights.some((weight) => weight <= 0)) return "the board would be folded over";
  let largest = 0;
  let smallest = Number.POSITIVE_INFINITY;
  let stretch = 1;
  let mirrored = false;
  for (const point of board) {
    const [a, b, c, d] = jacobianAt(fit.matrix, point);
    const det = a * d - b * c;
    mirrored = det < 0;
    const scale = Math.sqrt(Math.abs(det));
    largest = Math.max(largest, scale);
    smallest = Math.min(smallest, scale);
    // Singular values of a 2×2: half the sum and half the difference of these two lengths.
    const sum = Math.hypot(a + d, b - c);
    const difference = Math.hypot(a - d, b + c);
    stretch = Math.max(stretch, (sum + difference) / Math.abs(sum - difference));
  }
  if (stretch > limits.maxStretch) {
    return `the board would be stretched ${formatSignificant(stretch, 2)} times more one way than the other`;
  }
  if (largest > limits.maxScaleChange * smallest) {
    return `the scale would change ${formatSignificant(largest / smallest, 2)}-fold over the board`;
  }
  return mirrored === (view.side === "bottom") ? null : "mirror";
}
