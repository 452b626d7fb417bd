// simulate: polygons → areas, distances, insides.

export type Point = [number, number];

/** Signed area: positive when the corners run clockwise as seen with y down. */
export function signedArea(polygon: readonly Point[]): number {
  let sum = 0;
  for (let i = 0; i < polygon.length; i++) {
    const [x0, y0] = polygon[i]!;
    const [x1, y1] = polygon[(i + 1) % polygon.length]!;
    sum += x0 * y1 - x1 * y0;
  }
  return sum / 2;
}

/** True if a point lies inside (even-odd). */
export function isInside(polygon: readonly Point[], x: number, y: number): boolean {
  let inside = false;
  for (let i = 0, j = polygon.length - 1; i < polygon.length; j = i++) {
    const [xi, yi] = polygon[i]!;
    const [xj, yj] = polygon[j]!;
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
  }
  return inside;
}

/** Distance from a point to the nearest edge; 0 for a point inside. */
export function distanceToPolygon(polygon: readonly Point[], x: number, y: number): number {
  if (isInside(polygon, x, y)) return 0;
  let best = Number.POSITIVE_INFINITY;
  for (let i = 0; i < polygon.length; i++) {
    const [x0, y0] = polygon[i]!;
    const [x1, y1] = polygon[(i + 1) % polygon.length]!;
    const dx = x1 - x0;
    const dy = y1 - y0;
    const length2 = dx * dx + dy * dy;
    const t = length2 === 0 ? 0 : Math.min(1, Math.max(0, ((x - x0) * dx + (y - y0) * dy) / length2));
    best = Math.min(best, Math.hypot(x - x0 - t * dx, y - y0 - t * dy));
  }
  return best;
}

/** Gap between two polygons that don't overlap: the least distance of a corner of one to the other. */
export function gapBetween(a: readonly Point[], b: readonly Point[]): number {
  let best = Number.POSITIVE_INFINITY;
  for (const [x, y] of a) best = Math.min(best, distanceToPolygon(b, x, y));
  for (const [x, y] of b) best = Math.min(best, distanceToPolygon(a, x, y));
  return best;
}

/** Smallest box around a polygon: [x0, y0, x1, y1]. */
export function boundsOf(polygon: readonly Point[]): [number, number, number, number] {
  const xs = polygon.map((p) => p[0]);
  const ys = polygon.map((p) => p[1]);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

/** A rectangle about a centre, turned clockwise as seen with y down. */
export function turnedRectangle(center: Point, width: number, height: number, angleDeg: number): Point[] {
  const c = Math.cos((angleDeg * Math.PI) / 180);
  const s = Math.sin((angleDeg * Math.PI) / 180);
  const corners: Point[] = [
    [-width / 2, -height / 2],
    [width / 2, -height / 2],
    [width / 2, height / 2],
    [-width / 2, height / 2],
  ];
  return corners.map(([x, y]) => [center[0] + c * x - s * y, center[1] + s * x + c * y]);
}
