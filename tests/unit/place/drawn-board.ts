// A small board that is drawn exactly: soft-edged rectangles through any homography, with contrasts that can be chosen.
import type { BoardMap, View } from "../../../src/board/board-schema.js";
import { applyHomography, invertHomography, type Matrix3 } from "../../../src/board/plane-transform.js";
import { createRaster, type Raster } from "../../../src/core/raster.js";
import { makeRandom } from "../../simulate/random.js";

/** 60 × 38 mm, one corner cut, parts without any symmetry. */
export const BOARD: BoardMap = {
  kind: "faultglow/board",
  version: 1,
  outline: [
    [0, 0],
    [60, 0],
    [60, 30],
    [52, 38],
    [0, 38],
  ],
  regions: [
    { ref: "U1", side: "top", polygon: box(8, 6, 12, 9) },
    { ref: "U2", side: "top", polygon: box(34, 17, 8, 12) },
    { ref: "J1", side: "top", polygon: box(3, 26, 6, 8) },
    { ref: "C1", side: "top", polygon: box(47, 5, 5, 4) },
    { ref: "U3", side: "top", polygon: box(20, 24, 6, 5) },
  ],
};

/** Board mm → px of the first frame: a little turned, 2.2 px per mm. */
export const FIRST: Matrix3 = [2.16, -0.36, 18, 0.36, 2.16, 14, 0, 0, 1];

function box(x: number, y: number, w: number, h: number): [number, number][] {
  return [
    [x, y],
    [x + w, y],
    [x + w, y + h],
    [x, y + h],
  ];
}

/** The view of a matrix: four corners of the board. */
export function viewOf(matrix: Matrix3, width: number, height: number): View {
  const corners: [number, number][] = [
    [0, 0],
    [60, 0],
    [52, 38],
    [0, 38],
  ];
  return {
    kind: "faultglow/view",
    version: 1,
    side: "top",
    frame: { width, height },
    fiducials: corners.map((board) => ({ board, pixel: [...applyHomography(matrix, board)] })),
  };
}

/** Draw the board: its own level above the table, each part's above the board, K; white noise of 50 mK unless
 *  another is asked for.
 *  Edges fall over about 2 px, as optics blur them.
 */
export function drawBoard(
  matrix: Matrix3,
  [width, height]: readonly [number, number],
  levels: { readonly board: number; readonly parts: readonly number[]; readonly noiseK?: number },
  seed: string,
): Raster<"degC"> {
  const random = makeRandom(`drawn board/${seed}`);
  const noiseK = levels.noiseK ?? 0.05;
  const back = invertHomography(matrix);
  const softMm = 0.9 / Math.sqrt(Math.abs(matrix[0]! * matrix[4]! - matrix[1]! * matrix[3]!));
  const step = (distance: number): number => 1 / (1 + Math.exp(-distance / (0.55 * softMm)));
  const data = new Float32Array(width * height);
  for (let j = 0, k = 0; j < height; j++) {
    for (let i = 0; i < width; i++, k++) {
      const [x, y] = applyHomography(back, [i, j]);
      const inside = (x0: number, y0: number, x1: number, y1: number): number =>
        step(x - x0) * step(x1 - x) * step(y - y0) * step(y1 - y);
      const cut = step((90 - x - y) / Math.SQRT2);
      let sum = 22 + levels.board * inside(0, 0, 60, 38) * cut;
      BOARD.regions.forEach(({ polygon }, r) => {
        const [[x0, y0], , [x1, y1]] = polygon as [[number, number], [number, number], [number, number]];
        sum += levels.parts[r]! * inside(x0, y0, x1, y1);
      });
      data[k] = sum + noiseK * random.normal();
    }
  }
  return createRaster("degC", width, height, data);
}

/** Turn about a point of the frame, scale, shift: px → px. */
export function moved(
  { turnDeg, scale, shift }: { turnDeg: number; scale: number; shift: readonly [number, number] },
  about: readonly [number, number],
): Matrix3 {
  const c = scale * Math.cos((turnDeg * Math.PI) / 180);
  const s = scale * Math.sin((turnDeg * Math.PI) / 180);
  const [x, y] = about;
  return [c, -s, x - c * x + s * y + shift[0], s, c, y - s * x - c * y + shift[1], 0, 0, 1];
}
