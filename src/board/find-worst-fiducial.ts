// board: fiducials that contradict each other → the one that is most likely wrong, or two that are swapped.
import type { View } from "./board-schema.js";
import { fitAffine } from "./fit-affine.js";
import { fitHomography } from "./fit-homography.js";
import { applyHomography, type PlaneFit } from "./plane-transform.js";
import type { Point } from "./polygon.js";
import { fitSidedSimilarity } from "./solve-fiducials.js";

/** Pairs are tried up to this many fiducials: 66 fits. */
const MAX_FOR_SWAPS = 12;

/** Find the fiducial without which the others agree best.
 *  Leaving one out says something only where the others have equations to spare: with 6 and more fiducials
 *  homographies are compared, with 5 affine transforms, with 4 similarities; with 3 and fewer it is the one farthest
 *  from the best similarity.
 *  @returns its index, and how far it lies from where the others put it, px. */
export function findWorstFiducial(view: View): { index: number; missPx: number } {
  const board = view.fiducials.map((fiducial) => fiducial.board);
  const pixels = view.fiducials.map((fiducial) => fiducial.pixel);
  const n = board.length;
  if (n < 4) {
    const { residuals } = fitSidedSimilarity(board, pixels, view.side);
    const index = residuals.indexOf(Math.max(...residuals));
    return { index, missPx: residuals[index]! };
  }
  let best = { index: 0, missPx: Number.NaN };
  let least = Number.POSITIVE_INFINITY;
  for (let left = 0; left < n; left++) {
    const others = (_: unknown, i: number) => i !== left;
    const fit = tryFit(board.filter(others), pixels.filter(others), view.side);
    if (fit === null || !(fit.rmsResidual < least)) continue;
    least = fit.rmsResidual;
    const image = applyHomography(fit.matrix, board[left]!);
    best = { index: left, missPx: Math.hypot(image[0] - pixels[left]![0], image[1] - pixels[left]![1]) };
  }
  return best;
}

/** Find two fiducials whose pixels, when exchanged, make a view that is believed.
 *  @param believable says whether a fit to the exchanged view will do.
 *  @returns the pair that fits a similarity best; null if no pair helps, or there are too many to try. */
export function findSwap(
  view: View,
  believable: (view: View, fit: PlaneFit) => boolean,
): readonly [number, number] | null {
  const n = view.fiducials.length;
  if (n < 3 || n > MAX_FOR_SWAPS) return null;
  let best: readonly [number, number] | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      const other = swapPixels(view, i, j);
      const board = other.fiducials.map((fiducial) => fiducial.board);
      const pixels = other.fiducials.map((fiducial) => fiducial.pixel);
      const fit = tryFullFit(board, pixels);
      if (fit === null || !believable(other, fit)) continue;
      const { rmsResidual } = fitSidedSimilarity(board, pixels, view.side);
      if (rmsResidual >= least) continue;
      least = rmsResidual;
      best = [i, j];
    }
  }
  return best;
}

function swapPixels(view: View, i: number, j: number): View {
  const fiducials = view.fiducials.map((fiducial, k) => {
    const from = k === i ? j : k === j ? i : k;
    return { board: fiducial.board, pixel: view.fiducials[from]!.pixel };
  });
  return { ...view, fiducials };
}

/** The richest model that leaves equations to spare. */
function tryFit(board: readonly Point[], pixels: readonly Point[], side: View["side"]): PlaneFit | null {
  if (board.length < 4) return fitSidedSimilarity(board, pixels, side);
  return fitOrNull(() => (board.length === 4 ? fitAffine(board, pixels) : fitHomography(board, pixels)));
}

function tryFullFit(board: readonly Point[], pixels: readonly Point[]): PlaneFit | null {
  return fitOrNull(() => (board.length === 3 ? fitAffine(board, pixels) : fitHomography(board, pixels)));
}

function fitOrNull(solve: () => PlaneFit): PlaneFit | null {
  try {
    return solve();
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
