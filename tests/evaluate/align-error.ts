// evaluate: an estimated and a true motion → how far apart they put the board's pixels.
import type { Point } from "../simulate/polygons.js";
import type { Nudge, Scene } from "../simulate/scene.js";

/** Root mean square distance, over the board's pixels, between where the answer and the truth put them. */
export function alignError(estimate: Nudge, scene: Scene): number {
  const { width, height } = scene.baseline[0]!;
  const e = motion(estimate, width, height);
  const t = motion(scene.truth.transform, width, height);
  let sum = 0;
  let count = 0;
  for (let j = 0, k = 0; j < height; j++) {
    for (let i = 0; i < width; i++, k++) {
      if (scene.truth.boardMask[k] === 0) continue;
      const [ex, ey] = e(i, j);
      const [tx, ty] = t(i, j);
      sum += (ex - tx) ** 2 + (ey - ty) ** 2;
      count++;
    }
  }
  return Math.sqrt(sum / count);
}

/** p′ = c + R(p − c) + t, as the contract has it. */
function motion(nudge: Nudge, width: number, height: number): (x: number, y: number) => Point {
  const a = (nudge.rotationDeg * Math.PI) / 180;
  const cx = (width - 1) / 2;
  const cy = (height - 1) / 2;
  return (x, y) => [
    cx + Math.cos(a) * (x - cx) - Math.sin(a) * (y - cy) + nudge.dxPx,
    cy + Math.sin(a) * (x - cx) + Math.cos(a) * (y - cy) + nudge.dyPx,
  ];
}
