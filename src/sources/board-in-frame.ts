// sources: board, view and plate cells → how each frame pixel sees them.
import type { BoardMap } from "../board/board-schema.js";
import type { PlacedView } from "../board/place-view.js";
import { pointInPolygon } from "../board/polygon.js";
import { framePoint } from "../core/units.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import type { PlateGrid } from "./plate-grid.js";

/** Which cells a pixel reads, and with what weights. */
export interface BoardInFrame {
  readonly width: number;
  readonly height: number;
  /** 1 = the pixel's centre lies on the board. */
  readonly onBoard: Uint8Array;
  /** The pixels on the board, ascending. */
  readonly pixels: Int32Array;
  /** Four unknowns per pixel (−1 = none) and their weights, which sum to 1 on the board. */
  readonly unknowns: Int32Array;
  readonly weights: Float32Array;
  /** Emissivity the camera sees at each pixel; 0 off the board. */
  readonly emissivity: Float32Array;
  /** The same, blurred by the optics. */
  readonly shown: Float32Array;
  /** Blur of the optics, px. */
  readonly opticsSigmaPx: number;
}

/** Work out, for every frame pixel, which plate cells it looks at (bilinear between cell centres).
 *  @param emissivity per pixel, 0 off the board.
 */
export function seeBoard(
  board: BoardMap,
  view: PlacedView,
  grid: PlateGrid,
  emissivity: Float32Array,
  width: number,
  height: number,
  opticsSigmaPx: number,
): BoardInFrame {
  const n = width * height;
  const onBoard = new Uint8Array(n);
  const unknowns = new Int32Array(4 * n).fill(-1);
  const weights = new Float32Array(4 * n);
  const { columns, rows, unknownOf } = grid;
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const i = y * width + x;
      const mm = view.toBoard(framePoint(x, y));
      if (!pointInPolygon(board.outline, mm)) continue;
      onBoard[i] = 1;
      const u = (mm[0] - grid.x0Mm) / grid.stepMm;
      const v = (mm[1] - grid.y0Mm) / grid.stepMm;
      const c0 = Math.floor(u);
      const r0 = Math.floor(v);
      let sum = 0;
      for (let k = 0; k < 4; k++) {
        const c = Math.min(columns - 1, Math.max(0, c0 + (k & 1)));
        const r = Math.min(rows - 1, Math.max(0, r0 + (k >> 1)));
        const unknown = unknownOf[r * columns + c]!;
        if (unknown < 0) continue;
        const weight = ((k & 1) === 1 ? u - c0 : 1 - (u - c0)) * (k >> 1 === 1 ? v - r0 : 1 - (v - r0));
        unknowns[4 * i + k] = unknown;
        weights[4 * i + k] = weight;
        sum += weight;
      }
      if (sum > 0) for (let k = 0; k < 4; k++) weights[4 * i + k]! /= sum;
    }
  }
  const shown = gaussianFilter(emissivity, width, height, opticsSigmaPx);
  const pixels = pixelsOn(onBoard);
  return { width, height, onBoard, pixels, unknowns, weights, emissivity, shown, opticsSigmaPx };
}

function pixelsOn(onBoard: Uint8Array): Int32Array {
  const pixels = new Int32Array(onBoard.length);
  let count = 0;
  for (let i = 0; i < onBoard.length; i++) if (onBoard[i] === 1) pixels[count++] = i;
  return pixels.slice(0, count);
}

/** What the camera shows of a rise on the plate: read at each pixel, weakened by the finish as the optics blur it. The
 *  rise itself is smooth over a pixel.
 *  @param out where it goes, from `offset` on: one number for each pixel on the board.
 */
export function showPlate(seen: BoardInFrame, rise: Float64Array, out: Float32Array, offset = 0): void {
  const { pixels, unknowns, weights, shown } = seen;
  for (let p = 0; p < pixels.length; p++) {
    const i = pixels[p]!;
    let sum = 0;
    for (let k = 4 * i; k < 4 * i + 4; k++) {
      const unknown = unknowns[k]!;
      if (unknown >= 0) sum += weights[k]! * rise[unknown]!;
    }
    out[offset + p] = sum * shown[i]!;
  }
}
