// sources: board outline → the cells of the plate on which heat is computed.

import type { Polygon } from "../board/polygon.js";
import { boundsOf, pointInPolygon } from "../board/polygon.js";
import type { OptionsOf } from "../core/options.js";

/** Defaults of `makePlateGrid`. */
export const PLATE_GRID_DEFAULTS = Object.freeze({
  /** Cells along the shorter side: the factorisation's cost grows with its cube. */
  shortSideCells: 52,
  /** No finer than this: below it lies the size of the smallest parts and of the optics' blur. */
  minStepMm: 0.4,
});

/** Square cells that cover a board. Unknowns are numbered along the shorter side first, to keep the band narrow. */
export interface PlateGrid {
  /** Centre of cell (0, 0), mm. */
  readonly x0Mm: number;
  readonly y0Mm: number;
  readonly stepMm: number;
  readonly columns: number;
  readonly rows: number;
  /** Number of the unknown of cell `row * columns + column`; −1 outside the outline. */
  readonly unknownOf: Int32Array;
  /** Cell of each unknown. */
  readonly cellOf: Int32Array;
  /** Largest distance between the numbers of two neighbouring unknowns. */
  readonly bandwidth: number;
}

/** Lay square cells over a board; a cell belongs to the board if its centre does.
 *  @param outline board polygon, mm.
 */
export function makePlateGrid(
  outline: Polygon,
  options: OptionsOf<typeof PLATE_GRID_DEFAULTS> = {},
): PlateGrid {
  const o = { ...PLATE_GRID_DEFAULTS, ...options };
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  const spanX = maxX - minX;
  const spanY = maxY - minY;
  const stepMm = Math.max(o.minStepMm, Math.min(spanX, spanY) / o.shortSideCells);
  const columns = Math.max(2, Math.round(spanX / stepMm));
  const rows = Math.max(2, Math.round(spanY / stepMm));
  const x0Mm = (minX + maxX) / 2 - ((columns - 1) / 2) * stepMm;
  const y0Mm = (minY + maxY) / 2 - ((rows - 1) / 2) * stepMm;
  const unknownOf = new Int32Array(columns * rows).fill(-1);
  const cells: number[] = [];
  const alongRows = columns > rows;
  const outer = alongRows ? columns : rows;
  const inner = alongRows ? rows : columns;
  for (let a = 0; a < outer; a++) {
    for (let b = 0; b < inner; b++) {
      const column = alongRows ? a : b;
      const row = alongRows ? b : a;
      if (!pointInPolygon(outline, [x0Mm + column * stepMm, y0Mm + row * stepMm])) continue;
      unknownOf[row * columns + column] = cells.length;
      cells.push(row * columns + column);
    }
  }
  const cellOf = Int32Array.from(cells);
  let bandwidth = 1;
  for (let k = 0; k < cellOf.length; k++) {
    const cell = cellOf[k]!;
    const column = cell % columns;
    if (column + 1 < columns && unknownOf[cell + 1]! >= 0) {
      bandwidth = Math.max(bandwidth, Math.abs(unknownOf[cell + 1]! - k));
    }
    if (cell + columns < unknownOf.length) {
      const below = unknownOf[cell + columns]!;
      if (below >= 0) bandwidth = Math.max(bandwidth, Math.abs(below - k));
    }
  }
  return { x0Mm, y0Mm, stepMm, columns, rows, unknownOf, cellOf, bandwidth };
}
