// board: fiducials and the transform fitted to them → how unsure that leaves an image in the frame.
import { Matrix, pseudoInverse } from "ml-matrix";
import type { FramePoint } from "../core/units.js";
import type { PlaceCovariance } from "./frame-covariance-to-board.js";
import { normalisePoints } from "./normalise-points.js";
import type { Point } from "./polygon.js";
import type { SolvedFiducials, ViewModel } from "./solve-fiducials.js";

/** Error of one clicked fiducial along each axis, px: that of a corner told to the nearest pixel, half a pixel evenly,
 *  1/√12 = 0.29. Where fiducials are spare and contradict each other by more, that counts. */
export const CLICK_SIGMA_PX = 0.3;

/** Numbers that each model fits. */
const FREEDOMS: Readonly<Record<ViewModel, number>> = { similarity: 4, affine: 6, homography: 8 };

/** Carry the error of the clicks through the fit, to first order: at the fiducials' middle their errors average out,
 *  beyond the fiducials they grow. What residuals have beyond clicks is of the lens or the map, which bend the place as
 *  they bend the fiducials, and counts there once more. What a model leaves out (slant, with two or three fiducials) is
 *  not in it. Method: leverage in linear least squares; any small change of a fitted transform is one of its image, of
 *  the same model.
 *  @param pixels of the fiducials, in the frame.
 *  @returns the covariance of a frame point, px²; solved at the first call.
 */
export function clickCovariance(
  { model, fit, exact }: SolvedFiducials,
  pixels: readonly Point[],
): (point: FramePoint) => PlaceCovariance {
  const { matrix } = normalisePoints(pixels);
  const scale = matrix[0]!;
  const rowsAt = ([x, y]: Point) => changeRows(model, x * scale + matrix[2]!, y * scale + matrix[5]!);
  const squares = fit.rmsResidual ** 2 * pixels.length;
  const spare = exact ? 0 : 2 * pixels.length - FREEDOMS[model];
  const click2 = spare > 0 ? Math.max(CLICK_SIGMA_PX ** 2, squares / spare) : CLICK_SIGMA_PX ** 2;
  const bend2 = spare > 0 ? Math.max(0, squares - spare * CLICK_SIGMA_PX ** 2) / (2 * pixels.length) : 0;
  let solved: Matrix | null = null;
  return (point) => {
    solved ??= pseudoInverse(new Matrix(pixels.flatMap(rowsAt)));
    // Row: one coordinate of the place; column: how far it moves with one coordinate of one click.
    const shares = new Matrix(rowsAt(point)).mmul(solved);
    const product = shares.mmul(shares.transpose());
    return {
      xx: click2 * product.get(0, 0) + bend2,
      xy: click2 * product.get(0, 1),
      yy: click2 * product.get(1, 1) + bend2,
    };
  };
}

/** How an image point moves with each freedom of its transform. */
function changeRows(model: ViewModel, u: number, v: number): number[][] {
  if (model === "similarity") {
    return [
      [u, -v, 1, 0],
      [v, u, 0, 1],
    ];
  }
  if (model === "affine") {
    return [
      [u, v, 1, 0, 0, 0],
      [0, 0, 0, u, v, 1],
    ];
  }
  return [
    [u, v, 1, 0, 0, 0, -u * u, -u * v],
    [0, 0, 0, u, v, 1, -u * v, -v * v],
  ];
}
