// sources: board, view and plate cells → how each frame pixel sees them.
import type { BoardMap } from "../board/board-schema.js";
import type { PlacedView } from "../board/place-view.js";
import { pointInPolygon } from "../board/polygon.js";
import { rasterisePolygon } from "../board/rasterise-polygon.js";
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
  /** Where they look at the board, mm: x and y of each, one pixel after the other. */
  readonly placesMm: Float64Array;
  /** Four unknowns per pixel (−1 = none) and their weights, which sum to 1 on the board. */
  readonly unknowns: Int32Array;
  readonly weights: Float32Array;
  /** Emissivity the camera sees at each pixel; 0 off the board. */
  readonly emissivity: Float32Array;
  /** The same, blurred by the optics. */
  readonly shown: Float32Array;
  /** How much of what each pixel shows is board, 0…1: half at the outline, blurred by the optics. */
  readonly covered: Float32Array;
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
  const { pixels, placesMm, coverage } = pixelsOn(board, view, width, height);
  for (let p = 0; p < pixels.length; p++) {
    const i = pixels[p]!;
    onBoard[i] = 1;
    const u = (placesMm[2 * p]! - grid.x0Mm) / grid.stepMm;
    const v = (placesMm[2 * p + 1]! - grid.y0Mm) / grid.stepMm;
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
  const shown = gaussianFilter(emissivity, width, height, opticsSigmaPx);
  const covered = gaussianFilter(coverage, width, height, opticsSigmaPx, { out: coverage });
  return {
    covered,
    width,
    height,
    onBoard,
    pixels,
    placesMm,
    unknowns,
    weights,
    emissivity,
    shown,
    opticsSigmaPx,
  };
}

/** Find the pixels whose centres lie on the board, and how much of each it covers: of one that the board covers wholly,
 *  or not at all, the centre is known. */
function pixelsOn(
  { outline }: BoardMap,
  view: PlacedView,
  width: number,
  height: number,
): Pick<BoardInFrame, "pixels" | "placesMm"> & { readonly coverage: Float32Array } {
  const coverage = new Float32Array(width * height);
  const part = rasterisePolygon(view, outline, width, height);
  const pixels = new Int32Array(part.coverage.length);
  const placesMm = new Float64Array(2 * part.coverage.length);
  let count = 0;
  for (let k = 0; k < part.coverage.length; k++) {
    const share = part.coverage[k]!;
    if (share === 0) continue;
    const x = part.x0 + (k % part.width);
    const y = part.y0 + Math.floor(k / part.width);
    coverage[y * width + x] = share;
    const mm = view.toBoard(framePoint(x, y));
    if (share < 1 && !pointInPolygon(outline, mm)) continue;
    placesMm[2 * count] = mm[0];
    placesMm[2 * count + 1] = mm[1];
    pixels[count++] = y * width + x;
  }
  return { coverage, pixels: pixels.slice(0, count), placesMm: placesMm.slice(0, 2 * count) };
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
