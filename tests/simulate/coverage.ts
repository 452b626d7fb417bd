// simulate: polygons in sample coordinates → the share of each sample they cover.
import type { Point } from "./polygons.js";

/** Paint a polygon's coverage: 1 inside, 0 outside, in between by the distance to the edge.
 *  Edges keep their place to a small part of a sample, so that a nudge of any size moves them truly.
 *  @param paint called for every sample that is covered at all.
 */
export function paintCoverage(
  polygon: readonly Point[],
  width: number,
  height: number,
  paint: (index: number, coverage: number) => void,
): void {
  let x0 = width;
  let y0 = height;
  let x1 = -1;
  let y1 = -1;
  for (const [x, y] of polygon) {
    x0 = Math.min(x0, x);
    y0 = Math.min(y0, y);
    x1 = Math.max(x1, x);
    y1 = Math.max(y1, y);
  }
  const left = Math.max(0, Math.floor(x0) - 1);
  const top = Math.max(0, Math.floor(y0) - 1);
  const right = Math.min(width - 1, Math.ceil(x1) + 1);
  const bottom = Math.min(height - 1, Math.ceil(y1) + 1);
  if (right < left || bottom < top) return;
  const w = right - left + 1;
  const h = bottom - top + 1;
  const cover = new Float32Array(w * h);
  fillInside(polygon, left, top, w, h, cover);
  softenEdges(polygon, left, top, w, h, cover);
  for (let j = 0, k = 0; j < h; j++) {
    const row = (top + j) * width + left;
    for (let i = 0; i < w; i++, k++) if (cover[k]! > 0) paint(row + i, cover[k]!);
  }
}

function fillInside(
  polygon: readonly Point[],
  left: number,
  top: number,
  w: number,
  h: number,
  cover: Float32Array,
): void {
  const crossings: number[] = [];
  for (let j = 0; j < h; j++) {
    const y = top + j;
    crossings.length = 0;
    for (let a = 0; a < polygon.length; a++) {
      const [xa, ya] = polygon[a]!;
      const [xb, yb] = polygon[(a + 1) % polygon.length]!;
      if (ya > y !== yb > y) crossings.push(xa + ((y - ya) / (yb - ya)) * (xb - xa));
    }
    crossings.sort((p, q) => p - q);
    for (let c = 0; c + 1 < crossings.length; c += 2) {
      const from = Math.max(0, Math.ceil(crossings[c]! - left));
      const to = Math.min(w - 1, Math.floor(crossings[c + 1]! - left));
      for (let i = from; i <= to; i++) cover[j * w + i] = 1;
    }
  }
}

/** Replace the values within half a sample of an edge by ½ ± the distance to it, measured along the row or the
 *  column that crosses the edge more steeply: so the sum over each of them is exact, whatever the angle.
 */
function softenEdges(
  polygon: readonly Point[],
  left: number,
  top: number,
  w: number,
  h: number,
  cover: Float32Array,
): void {
  for (let a = 0; a < polygon.length; a++) {
    const [xa, ya] = polygon[a]!;
    const [xb, yb] = polygon[(a + 1) % polygon.length]!;
    const length = Math.hypot(xb - xa, yb - ya);
    if (length === 0) continue;
    const ux = (xb - xa) / length;
    const uy = (yb - ya) / length;
    const steep = Math.max(Math.abs(ux), Math.abs(uy));
    const jFrom = Math.max(0, Math.floor(Math.min(ya, yb) - top) - 1);
    const jTo = Math.min(h - 1, Math.ceil(Math.max(ya, yb) - top) + 1);
    for (let j = jFrom; j <= jTo; j++) {
      const y = top + j - ya;
      // Distance to the line is −uy·x + ux·y: solve |distance| ≤ ½·steep for x, within the edge's own span.
      let from = Math.min(xa, xb) - 1;
      let to = Math.max(xa, xb) + 1;
      if (Math.abs(uy) > 1e-9) {
        const middle = xa + (ux * y) / uy;
        const reach = (0.5 * steep) / Math.abs(uy);
        from = Math.max(from, middle - reach);
        to = Math.min(to, middle + reach);
      } else if (Math.abs(y) > 0.5) continue;
      for (let i = Math.max(0, Math.ceil(from - left)); i <= Math.min(w - 1, Math.floor(to - left)); i++) {
        const x = left + i - xa;
        const along = ux * x + uy * y;
        const distance = Math.abs(-uy * x + ux * y) / steep;
        if (along < 0 || along > length || distance > 0.5) continue;
        const k = j * w + i;
        // The side was decided by the fill; a second edge nearby may only bring the value closer to ½.
        const now = cover[k]!;
        const isIn = now >= 0.5;
        const value = isIn ? 0.5 + distance : 0.5 - distance;
        if (now === 0 || now === 1 || Math.abs(value - 0.5) < Math.abs(now - 0.5)) cover[k] = value;
      }
    }
  }
}
