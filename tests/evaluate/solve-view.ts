// evaluate: fiducials → frame px to board mm, by least squares; the plain chain's own.
import type { Point } from "../simulate/polygons.js";
import type { SimView } from "../simulate/scene.js";

/** Fit a projective map from frame to board: eight unknowns, linear least squares.
 *  Good for the simulator's four to six well-spread fiducials; no refinement.
 */
export function solveView(view: SimView): (px: Point) => Point {
  const { width, height } = view.frame;
  const size = 9;
  const sums = Array.from({ length: 8 }, () => new Array<number>(size).fill(0));
  for (const { board, pixel } of view.fiducials) {
    const x = pixel[0] / width - 0.5;
    const y = pixel[1] / height - 0.5;
    const [u, v] = board;
    addRow(sums, [x, y, 1, 0, 0, 0, -u * x, -u * y, u]);
    addRow(sums, [0, 0, 0, x, y, 1, -v * x, -v * y, v]);
  }
  const h = eliminate(sums);
  return ([px, py]) => {
    const x = px / width - 0.5;
    const y = py / height - 0.5;
    const w = h[6]! * x + h[7]! * y + 1;
    return [(h[0]! * x + h[1]! * y + h[2]!) / w, (h[3]! * x + h[4]! * y + h[5]!) / w];
  };
}

function addRow(sums: number[][], row: readonly number[]): void {
  for (let i = 0; i < 8; i++) for (let j = 0; j < 9; j++) sums[i]![j] = sums[i]![j]! + row[i]! * row[j]!;
}

/** Gauss–Jordan with row pivots. */
function eliminate(m: number[][]): number[] {
  for (let c = 0; c < 8; c++) {
    let best = c;
    for (let r = c + 1; r < 8; r++) if (Math.abs(m[r]![c]!) > Math.abs(m[best]![c]!)) best = r;
    [m[c], m[best]] = [m[best]!, m[c]!];
    const pivot = m[c]![c]!;
    for (let r = 0; r < 8; r++) {
      if (r === c) continue;
      const factor = m[r]![c]! / pivot;
      for (let k = c; k < 9; k++) m[r]![k] = m[r]![k]! - factor * m[c]![k]!;
    }
  }
  return m.map((row, i) => row[8]! / row[i]!);
}
