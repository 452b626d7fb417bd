// sources: a part's outline on the plate → the cells that its heat falls on.
import { boundsOf, type Polygon, pointInPolygon } from "../board/polygon.js";
import type { PlateGrid } from "./plate-grid.js";

/** Share of a part's watt that falls on each unknown of the plate; sums to 1. */
export interface HeatFootprint {
  readonly unknowns: Int32Array;
  readonly shares: Float64Array;
}

/** Points per side of the lattice over a part's bounding box. */
const LATTICE = 12;

/** Spread one watt evenly over a polygon's area, each point shared between the four cells around it.
 *  A part smaller than a cell keeps its place to a fraction of the cell.
 *  @returns null where no point of the polygon lies over the board.
 */
export function heatFootprint(grid: PlateGrid, polygon: Polygon): HeatFootprint | null {
  const { minX, minY, maxX, maxY } = boundsOf(polygon);
  const [alongX, alongY] = [axisPoints(minX, maxX, grid.x0Mm, grid), axisPoints(minY, maxY, grid.y0Mm, grid)];
  const upright = isUpright(polygon);
  // Cells in the order in which they are met.
  const unknowns: number[] = [];
  const shares: number[] = [];
  const placeOf = new Map<number, number>();
  let total = 0;
  for (let v = 0; v < LATTICE; v++) {
    const r0 = alongY.cells[v]!;
    if (outside(alongY.places[v]!, grid.rows)) continue;
    for (let u = 0; u < LATTICE; u++) {
      const c0 = alongX.cells[u]!;
      if (outside(alongX.places[u]!, grid.columns)) continue;
      if (!upright && !pointInPolygon(polygon, [alongX.mm[u]!, alongY.mm[v]!])) continue;
      let given = 0;
      for (let k = 0; k < 4; k++) {
        const c = Math.min(grid.columns - 1, Math.max(0, c0 + (k & 1)));
        const r = Math.min(grid.rows - 1, Math.max(0, r0 + (k >> 1)));
        const unknown = grid.unknownOf[r * grid.columns + c]!;
        const weight = alongX.weights[2 * u + (k & 1)]! * alongY.weights[2 * v + (k >> 1)]!;
        if (unknown < 0 || !(weight > 0)) continue;
        let place = placeOf.get(unknown);
        if (place === undefined) {
          place = unknowns.length;
          placeOf.set(unknown, place);
          unknowns.push(unknown);
          shares.push(0);
        }
        shares[place]! += weight;
        given += weight;
      }
      total += given;
    }
  }
  if (!(total > 0)) return null;
  return { unknowns: Int32Array.from(unknowns), shares: Float64Array.from(shares, (s) => s / total) };
}

/** Points of the lattice along one axis. */
interface AxisPoints {
  readonly mm: Float64Array;
  /** In cells of the grid. */
  readonly places: Float64Array;
  /** The cell before each, and the weights of that one and of the next. */
  readonly cells: Int32Array;
  readonly weights: Float64Array;
}

function axisPoints(fromMm: number, toMm: number, gridMm: number, { stepMm }: PlateGrid): AxisPoints {
  const mm = new Float64Array(LATTICE);
  const places = new Float64Array(LATTICE);
  const cells = new Int32Array(LATTICE);
  const weights = new Float64Array(2 * LATTICE);
  for (let k = 0; k < LATTICE; k++) {
    mm[k] = fromMm + ((k + 0.5) / LATTICE) * (toMm - fromMm);
    const place = (mm[k]! - gridMm) / stepMm;
    const cell = Math.floor(place);
    places[k] = place;
    cells[k] = cell;
    weights[2 * k] = 1 - (place - cell);
    weights[2 * k + 1] = place - cell;
  }
  return { mm, places, cells, weights };
}

/** Beyond the outermost cells by more than half a step there is no board. */
function outside(place: number, cells: number): boolean {
  return place < -0.51 || place > cells - 0.49;
}

/** True of a rectangle along the axes: every point between its bounds lies in it. */
function isUpright(polygon: Polygon): boolean {
  if (polygon.length !== 4) return false;
  const { minX, minY, maxX, maxY } = boundsOf(polygon);
  const corners = new Set(polygon.map(([x, y]) => 2 * Number(x === maxX) + Number(y === maxY)));
  return (
    corners.size === 4 &&
    polygon.every(([x, y]) => (x === minX || x === maxX) && (y === minY || y === maxY)) &&
    // Not crossed: neighbours share a side.
    polygon.every(([x, y], k) => x === polygon[(k + 1) % 4]![0] || y === polygon[(k + 1) % 4]![1])
  );
}
