// place: a board map and where it lies in a frame → the pixels at its drawn edges, in small groups that keep one
// contrast each.
import { bandPass } from "../align/band-pass.js";
import type { BoardMap } from "../board/board-schema.js";
import type { PlacedView } from "../board/place-view.js";
import { composeHomographies, type Matrix3 } from "../board/plane-transform.js";
import { boundsOf, type Polygon } from "../board/polygon.js";
import { coverageMask, polygonToFrame } from "../board/rasterise-polygon.js";
import { OPTICS_SIGMA_PX } from "../frames/optics.js";
import type { EdgeCells, EdgeDetail } from "./edge-cells.js";

/** Pixels whose slope falls below this share of the steepest one of their polygon are left out. */
const LEAST_SLOPE = 0.3;
/** Shapes narrower than this show no edge of their own, px. */
const LEAST_WIDTH_PX = 4;
/** Windows reach so many coarse sigmas beyond a polygon. */
const REACH = 3;
/** Groups of fewer pixels say nothing once their contrast is fitted. */
const LEAST_PIXELS = 9;

/** Draw the edges of a map as a camera would show them: outline, and the parts of the side in view, each by itself, for
 *  its contrast may have either sign.
 *  @param view where the map lies in the frame; the edges need not lie within it.
 *  @returns as `edgeCells`; value: share of the pixel that the shape covers, band-passed, without a unit.
 */
export function mapCells(
  view: Pick<PlacedView, "matrix" | "side">,
  board: BoardMap,
  detail: EdgeDetail,
): EdgeCells {
  const x: number[] = [];
  const y: number[] = [];
  const value: number[] = [];
  const starts = [0];
  const inner: number[] = [];
  const add = (polygon: Polygon, isInner: boolean): void => {
    for (const group of drawnGroups(view.matrix, polygon, detail)) {
      const mean = group.reduce((sum, pixel) => sum + pixel[2], 0) / group.length;
      for (const [px, py, shown] of group) {
        x.push(px);
        y.push(py);
        value.push(shown - mean);
      }
      starts.push(x.length);
      inner.push(isInner ? 1 : 0);
    }
  };
  add(board.outline, false);
  for (const { side, polygon } of board.regions) if (side === view.side) add(polygon, true);
  return {
    count: x.length,
    x: Float32Array.from(x),
    y: Float32Array.from(y),
    value: Float32Array.from(value),
    starts: Int32Array.from(starts),
    inner: Uint8Array.from(inner),
  };
}

/** Join the edges of a frame and of a map that lies in it. */
export function joinCells(a: EdgeCells, b: EdgeCells): EdgeCells {
  const list = (first: Float32Array, second: Float32Array) => {
    const out = new Float32Array(first.length + second.length);
    out.set(first);
    out.set(second, first.length);
    return out;
  };
  return {
    count: a.count + b.count,
    x: list(a.x, b.x),
    y: list(a.y, b.y),
    value: list(a.value, b.value),
    starts: Int32Array.from([...a.starts, ...b.starts.subarray(1).map((start) => start + a.count)]),
    inner: Uint8Array.from([...a.inner, ...b.inner]),
  };
}

type DrawnPixel = readonly [x: number, y: number, shown: number];

function drawnGroups(
  matrix: Matrix3,
  polygon: Polygon,
  { fineSigmaPx, coarseSigmaPx, groupPx }: EdgeDetail,
): DrawnPixel[][] {
  const bounds = boundsOf(polygonToFrame({ matrix }, polygon));
  if (Math.min(bounds.maxX - bounds.minX, bounds.maxY - bounds.minY) < LEAST_WIDTH_PX) return [];
  const reach = Math.ceil(REACH * coarseSigmaPx);
  const x0 = Math.floor(bounds.minX) - reach;
  const y0 = Math.floor(bounds.minY) - reach;
  const width = Math.ceil(bounds.maxX) + reach - x0;
  const height = Math.ceil(bounds.maxY) + reach - y0;
  const moved = composeHomographies([1, 0, -x0, 0, 1, -y0, 0, 0, 1], matrix);
  const cover = coverageMask({ matrix: moved }, polygon, width, height).data;
  const picture = bandPass(
    cover,
    width,
    height,
    Math.hypot(fineSigmaPx, OPTICS_SIGMA_PX),
    Math.hypot(coarseSigmaPx, OPTICS_SIGMA_PX),
  );
  const slopes = new Float32Array(width * height);
  for (let j = 1; j < height - 1; j++) {
    for (let i = 1, k = j * width + 1; i < width - 1; i++, k++) {
      slopes[k] = Math.hypot(picture[k + 1]! - picture[k - 1]!, picture[k + width]! - picture[k - width]!);
    }
  }
  const least = LEAST_SLOPE * slopes.reduce((most, one) => Math.max(most, one), 0);
  const groups = new Map<string, DrawnPixel[]>();
  slopes.forEach((slope, k) => {
    if (slope < least) return;
    const px = x0 + (k % width);
    const py = y0 + Math.floor(k / width);
    const key = `${Math.floor(px / groupPx)} ${Math.floor(py / groupPx)}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [[px, py, picture[k]!]]);
    else group.push([px, py, picture[k]!]);
  });
  return [...groups.values()].filter((group) => group.length >= LEAST_PIXELS);
}
