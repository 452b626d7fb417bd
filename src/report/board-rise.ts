// report: the pictures of a view → the rise on a grid of board millimetres, as it can be compared between attempts.
import type { BoardMap } from "../board/board-schema.js";
import { boundsOf } from "../board/polygon.js";
import type { Raster } from "../core/raster.js";
import { boardPoint } from "../core/units.js";
import type { ViewPictures } from "../findings/analysis.js";
import type { Findings } from "../findings/findings-schema.js";
import { sampleBilinear } from "../numeric/sample-bilinear.js";
import { leastColoured } from "./least-coloured.js";

/** The rise of one view on a grid over the board. */
export interface BoardRise {
  readonly side: "top" | "bottom";
  /** Place of the first grid point, mm; seen from the top side in any case. */
  readonly originMm: readonly [number, number];
  readonly pitchMm: number;
  readonly width: number;
  readonly height: number;
  /** K, row-major; NaN where the view does not see the board. */
  readonly data: Float32Array;
  /** From where on a rise is to be drawn, K. */
  readonly leastRiseK: number;
  /** Largest rise on the board, K; 0 where nothing rose. */
  readonly peakRiseK: number;
}

/** Grid points along the longer side of the board: a phone's board then has one every half millimetre or so, which is
 *  about a pixel of the cameras that are used for it. */
const GRID_POINTS = 160;

/** Lay the smoothed rise of a view over the board, whichever way the camera looked.
 *  The rise is drawn from where it exceeds the threshold, three times the root mean square of the falls on the board
 *  and 4 % of its peak.
 *  @param pictures of one view; null is given back where no view says how it sees the board.
 *  @param thresholdK of the same view.
 */
export function boardRise(
  pictures: Pick<ViewPictures, "smoothRise" | "view">,
  board: BoardMap,
  thresholdK: Findings["threshold"]["riseK"],
): BoardRise | null {
  const { smoothRise, view } = pictures;
  if (view === null) return null;
  const { minX, minY, maxX, maxY } = boundsOf(board.outline);
  const pitchMm = Math.max(maxX - minX, maxY - minY) / (GRID_POINTS - 1);
  const width = Math.ceil((maxX - minX) / pitchMm - 1e-9) + 1;
  const height = Math.ceil((maxY - minY) / pitchMm - 1e-9) + 1;
  const data = new Float32Array(width * height);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      const [frameX, frameY] = view.toFrame(boardPoint(minX + x * pitchMm, minY + y * pitchMm));
      data[i] = valueBetween(smoothRise, frameX, frameY);
    }
  }
  const { leastK, peakK } = leastColoured(data);
  return {
    side: view.side,
    originMm: [minX, minY],
    pitchMm,
    width,
    height,
    data,
    leastRiseK: Math.max(thresholdK, leastK),
    peakRiseK: peakK,
  };
}

/** NaN outside the frame. */
function valueBetween({ width, height, data }: Raster, x: number, y: number): number {
  const inside = x >= 0 && y >= 0 && x <= width - 1 && y <= height - 1;
  return inside ? sampleBilinear(data, width, height, x, y) : Number.NaN;
}
