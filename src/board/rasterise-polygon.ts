// board: a polygon on the board and a view → how much of each frame pixel it covers.
import { createRaster, type Raster } from "../core/raster.js";
import type { PlacedView } from "./place-view.js";
import { applyHomography, horizonWeight, type Matrix3 } from "./plane-transform.js";
import { boundsOf, type Point, type Polygon, signedArea } from "./polygon.js";

/** Shares of pixels that a polygon covers, in a window of the frame. */
export interface PolygonCoverage {
  /** Column and row of the frame where the window starts. */
  readonly x0: number;
  readonly y0: number;
  /** Size of the window, px; 0 where nothing of the polygon is in the frame. */
  readonly width: number;
  readonly height: number;
  /** 0…1, row by row. */
  readonly coverage: Float32Array;
}

/** What rounding leaves at the ends of 0…1: far above double rounding, far below the step of a float32 near 1. */
const ROUNDING = 1e-9;
/** Corners nearer to the horizon than this share of the nearest corner's weight are cut off: 10⁴ times farther out. */
const HORIZON_SHARE = 1e-4;

/** Compute the share of each frame pixel that a polygon covers: the exact area, so that the shares sum to the
 *  polygon's area in px². Pixels reach half a pixel around their whole-numbered centres.
 *  Method: each edge adds the signed area to its right within its row; a running sum along the row gives the shares.
 *  @param polygon board mm, simple; either sense of turning.
 *  @param width frame width, px.
 *  @param height frame height, px. */
export function rasterisePolygon(
  view: Pick<PlacedView, "matrix">,
  polygon: Polygon,
  width: number,
  height: number,
): PolygonCoverage {
  const corners = polygonToFrame(view, polygon);
  const bounds = boundsOf(corners);
  const x0 = Math.max(0, Math.floor(bounds.minX + 0.5));
  const y0 = Math.max(0, Math.floor(bounds.minY + 0.5));
  const x1 = Math.min(width, Math.ceil(bounds.maxX + 0.5));
  const y1 = Math.min(height, Math.ceil(bounds.maxY + 0.5));
  if (!(x1 > x0 && y1 > y0)) return { x0: 0, y0: 0, width: 0, height: 0, coverage: new Float32Array(0) };
  const columns = x1 - x0;
  const rows = y1 - y0;
  // One column more, into which an edge in the last column may spill.
  const steps = new Float64Array((columns + 1) * rows);
  for (let i = 0; i < corners.length; i++) {
    const a = corners[i]!;
    const b = corners[(i + 1) % corners.length]!;
    addEdge(steps, columns, rows, a[0] + 0.5 - x0, a[1] + 0.5 - y0, b[0] + 0.5 - x0, b[1] + 0.5 - y0);
  }
  // An edge that runs down counts its right side as covered; it does so with corners that turn from +y to +x.
  const sign = -Math.sign(signedArea(corners));
  const coverage = new Float32Array(columns * rows);
  for (let y = 0; y < rows; y++) {
    let sum = 0;
    for (let x = 0; x < columns; x++) {
      sum += steps[y * (columns + 1) + x]!;
      const share = sign * sum;
      coverage[y * columns + x] = share < ROUNDING ? 0 : share > 1 - ROUNDING ? 1 : share;
    }
  }
  return { x0, y0, width: columns, height: rows, coverage };
}

/** Lay the shares that a polygon covers out over the whole frame.
 *  @returns 0 off it, 1 on it, between on its edge.
 */
export function coverageMask(
  view: Pick<PlacedView, "matrix">,
  polygon: Polygon,
  width: number,
  height: number,
): Raster<"none"> {
  const mask = createRaster("none", width, height);
  const part = rasterisePolygon(view, polygon, width, height);
  for (let y = 0; y < part.height; y++) {
    const row = part.coverage.subarray(y * part.width, (y + 1) * part.width);
    mask.data.set(row, (part.y0 + y) * width + part.x0);
  }
  return mask;
}

/** The frame's pixel, as an index in its raster, to which the share with number `k` belongs. */
export function framePixel({ x0, y0, width }: PolygonCoverage, k: number, frameWidth: number): number {
  return (y0 + Math.floor(k / width)) * frameWidth + x0 + (k % width);
}

/** Map a polygon into the frame, without what lies behind the view's horizon.
 *  @returns frame px; no corners where all of it lies behind the horizon. */
export function polygonToFrame(view: Pick<PlacedView, "matrix">, polygon: Polygon): Point[] {
  const { matrix } = view;
  let most = 0;
  for (const corner of polygon) most = Math.max(most, horizonWeight(matrix, corner));
  return inFront(matrix, polygon, HORIZON_SHARE * most).map((corner) => applyHomography(matrix, corner));
}

/** The part of a polygon whose weight is at least `least` (Sutherland & Hodgman 1974, one side). */
function inFront(matrix: Matrix3, polygon: Polygon, least: number): Point[] {
  const kept: Point[] = [];
  if (!(least > 0)) return kept;
  for (let i = 0; i < polygon.length; i++) {
    const a = polygon[i]!;
    const b = polygon[(i + 1) % polygon.length]!;
    const weightA = horizonWeight(matrix, a) - least;
    const weightB = horizonWeight(matrix, b) - least;
    if (weightA >= 0) kept.push(a);
    if (weightA >= 0 !== weightB >= 0) {
      const share = weightA / (weightA - weightB);
      kept.push([a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]);
    }
  }
  return kept;
}

/** Add one edge, in window coordinates whose pixels span n…n+1. */
function addEdge(
  steps: Float64Array,
  columns: number,
  rows: number,
  ax: number,
  ay: number,
  bx: number,
  by: number,
): void {
  if (ay === by) return;
  const down = ay < by ? 1 : -1;
  const topX = down > 0 ? ax : bx;
  const topY = Math.min(ay, by);
  const bottomY = Math.max(ay, by);
  const slope = (bx - ax) / (by - ay);
  const last = Math.min(rows, Math.ceil(bottomY));
  for (let y = Math.max(0, Math.floor(topY)); y < last; y++) {
    const from = Math.max(y, topY);
    const to = Math.min(y + 1, bottomY);
    if (to <= from) continue;
    const fromX = topX + (from - topY) * slope;
    const toX = topX + (to - topY) * slope;
    spreadRow(
      steps,
      y * (columns + 1),
      columns,
      Math.min(fromX, toX),
      Math.max(fromX, toX),
      down * (to - from),
    );
  }
}

/** Spread a piece of an edge within one row over the columns that it passes. */
function spreadRow(
  steps: Float64Array,
  start: number,
  columns: number,
  left: number,
  right: number,
  amount: number,
): void {
  if (left >= columns) return;
  if (right <= 0) {
    steps[start]! += amount;
    return;
  }
  const length = right - left;
  if (left < 0) steps[start]! += (amount * -left) / length;
  const end = Math.min(right, columns);
  let x = Math.max(left, 0);
  do {
    const column = Math.min(Math.floor(x), columns - 1);
    const next = Math.min(end, column + 1);
    const part = length > 0 ? (amount * (next - x)) / length : amount;
    const middle = (x + next) / 2 - column;
    steps[start + column]! += part * (1 - middle);
    steps[start + column + 1]! += part * middle;
    x = next;
  } while (x < end);
}
