// import: a subpath and a map → the corners of a polygon that misses its curves by no more than a tolerance.
import type { Point } from "../board/polygon.js";
import type { Segment, Subpath } from "./parse-path.js";
import { type Affine, applyAffine, stretchOf } from "./svg-transform.js";

/** More pieces than this has no curve of a board; a vast one is cut coarser. */
const MOST_PIECES = 2000;

/** Flatten a subpath in the plane that the map leads to.
 *  @param toleranceMm by how much an edge may miss the curve.
 *  @returns corners without a last one that repeats the first. */
export function flattenPath(subpath: Subpath, map: Affine, toleranceMm: number): Point[] {
  const corners: Point[] = [applyAffine(map, subpath.start)];
  let from = subpath.start;
  for (const segment of subpath.segments) {
    if ("control" in segment) flattenCubic(from, segment, map, toleranceMm, corners);
    else if ("radii" in segment) flattenArc(from, segment, map, toleranceMm, corners);
    else corners.push(applyAffine(map, segment.to));
    from = segment.to;
  }
  const [first, last] = [corners[0]!, corners[corners.length - 1]!];
  if (corners.length > 1 && first[0] === last[0] && first[1] === last[1]) corners.pop();
  return corners;
}

/** A chord of a parameter step h misses a curve by at most h²/8 · max|B″|, and |B″| of a cubic is at most six times the
 *  larger second difference of its control points. */
function flattenCubic(
  start: Point,
  segment: Extract<Segment, { control: unknown }>,
  map: Affine,
  toleranceMm: number,
  corners: Point[],
): void {
  const [a, b, c, d] = [start, ...segment.control, segment.to].map((point) => applyAffine(map, point)) as [
    Point,
    Point,
    Point,
    Point,
  ];
  const bend = (p: Point, q: Point, r: Point): number =>
    Math.hypot(p[0] - 2 * q[0] + r[0], p[1] - 2 * q[1] + r[1]);
  const pieces = pieceCount(Math.sqrt((0.75 * Math.max(bend(a, b, c), bend(b, c, d))) / toleranceMm));
  for (let i = 1; i < pieces; i++) {
    const t = i / pieces;
    const s = 1 - t;
    const [wa, wb, wc, wd] = [s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t];
    corners.push([
      wa * a[0] + wb * b[0] + wc * c[0] + wd * d[0],
      wa * a[1] + wb * b[1] + wc * c[1] + wd * d[1],
    ]);
  }
  corners.push(d);
}

/** Centre and angles by SVG 2, appendix B.2; radii too short for the distance are drawn out as it says. */
function flattenArc(
  start: Point,
  arc: Extract<Segment, { radii: unknown }>,
  map: Affine,
  toleranceMm: number,
  corners: Point[],
): void {
  const end = applyAffine(map, arc.to);
  let [rx, ry] = arc.radii;
  const [halfX, halfY] = [(start[0] - arc.to[0]) / 2, (start[1] - arc.to[1]) / 2];
  if (rx === 0 || ry === 0 || (halfX === 0 && halfY === 0)) {
    corners.push(end);
    return;
  }
  const turn = (arc.turnDeg * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const x = cos * halfX + sin * halfY;
  const y = -sin * halfX + cos * halfY;
  const reach = (x / rx) ** 2 + (y / ry) ** 2;
  if (reach > 1) {
    rx *= Math.sqrt(reach);
    ry *= Math.sqrt(reach);
  }
  const sign = arc.large === arc.sweep ? -1 : 1;
  const factor = sign * Math.sqrt(Math.max(0, 1 / ((x / rx) ** 2 + (y / ry) ** 2) - 1));
  const [cx, cy] = [(factor * rx * y) / ry, (-factor * ry * x) / rx];
  const centre: Point = [
    cos * cx - sin * cy + (start[0] + arc.to[0]) / 2,
    sin * cx + cos * cy + (start[1] + arc.to[1]) / 2,
  ];
  const first = Math.atan2((y - cy) / ry, (x - cx) / rx);
  let sweep = Math.atan2((-y - cy) / ry, (-x - cx) / rx) - first;
  if (arc.sweep && sweep < 0) sweep += 2 * Math.PI;
  if (!arc.sweep && sweep > 0) sweep -= 2 * Math.PI;
  // A chord of angle φ misses a circle of radius r by r (1 − cos φ/2), which is less than r φ²/8.
  const radius = Math.max(rx, ry) * stretchOf(map);
  const pieces = pieceCount(Math.abs(sweep) * Math.sqrt(radius / (8 * toleranceMm)));
  for (let i = 1; i < pieces; i++) {
    const angle = first + (sweep * i) / pieces;
    const [px, py] = [rx * Math.cos(angle), ry * Math.sin(angle)];
    corners.push(applyAffine(map, [centre[0] + cos * px - sin * py, centre[1] + sin * px + cos * py]));
  }
  corners.push(end);
}

function pieceCount(wanted: number): number {
  return Math.min(MOST_PIECES, Math.max(1, Math.ceil(wanted)));
}
