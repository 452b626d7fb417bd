// rise: frames → the course in time of small square cells, without level, drift and what surroundings share.
import type { Raster } from "../core/raster.js";
import { seriesOf } from "../frames/frame-series.js";

/** Cells this wide gather the heat of a small part under usual optics, px. */
const LEAST_CELL_PX = 4;
/** A frame has at most about so many: what the search costs grows with them. */
const MOST_CELLS = 2500;
/** Cells on either side that make up the surroundings. */
const REACH = 3;
/** Weights of a cell and its neighbours along each axis: a spot between cells, or wider than one, is gathered as
 *  well. */
const SMOOTH = [1, 2, 1];

/** Courses of cells. */
export interface CellSeries {
  readonly columns: number;
  readonly rows: number;
  readonly cellPx: number;
  /** One for each cell that has readings in all frames, row-major: K, without constant, slope and bend. */
  readonly series: readonly Float64Array[];
}

/** Average the pixels of each cell, frame by frame, smooth over neighbours, and take off what the surroundings show and
 *  slow drift.
 *  @param frames °C, one shape, NaN = no reading; not modified.
 *  @param drift orthonormal courses to be taken off.
 */
export function cellSeries(frames: readonly Raster<"degC">[], drift: readonly Float64Array[]): CellSeries {
  const { width, height } = frames[0]!;
  const { columns, rows, cellPx } = cellGrid(width, height);
  const all = Array.from({ length: columns * rows }, () => new Float64Array(frames.length));
  const cells = new Float64Array(columns * rows);
  const sequence = seriesOf(frames);
  for (let n = 0; n < sequence.count; n++) {
    averageCells(sequence.frame(n), width, cellPx, columns, rows, cells);
    for (let c = 0; c < cells.length; c++)
      all[c]![n] = smoothed(cells, columns, rows, c) - surroundings(cells, columns, rows, c);
  }
  const series = all.filter((one) => one.every((value) => value * 0 === 0));
  for (const one of series) {
    for (const course of drift) {
      let amount = 0;
      for (let n = 0; n < one.length; n++) amount += course[n]! * one[n]!;
      for (let n = 0; n < one.length; n++) one[n]! -= amount * course[n]!;
    }
  }
  return { columns, rows, cellPx, series };
}

/** Cells of a frame: their size, and how many there are along each axis. */
export function cellGrid(width: number, height: number): Omit<CellSeries, "series"> {
  const wanted = Math.max(LEAST_CELL_PX, Math.round(Math.sqrt((width * height) / MOST_CELLS)));
  const cellPx = Math.max(1, Math.min(wanted, Math.floor(Math.min(width, height) / (2 * REACH))));
  return { columns: Math.floor(width / cellPx), rows: Math.floor(height / cellPx), cellPx };
}

function averageCells(
  data: Float32Array,
  width: number,
  cellPx: number,
  columns: number,
  rows: number,
  out: Float64Array,
): void {
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      let sum = 0;
      let known = 0;
      for (let y = r * cellPx; y < (r + 1) * cellPx; y++) {
        for (let x = c * cellPx; x < (c + 1) * cellPx; x++) {
          const value = data[y * width + x]!;
          if (!(value * 0 === 0)) continue;
          sum += value;
          known++;
        }
      }
      out[r * columns + c] = known === 0 ? Number.NaN : sum / known;
    }
  }
}

/** Weighted mean of a cell and its neighbours; NaN where the cell itself has no reading. */
function smoothed(cells: Float64Array, columns: number, rows: number, cell: number): number {
  const column = cell % columns;
  const row = (cell - column) / columns;
  let sum = 0;
  let weights = 0;
  for (let dr = -1; dr <= 1; dr++) {
    for (let dc = -1; dc <= 1; dc++) {
      const [r, c] = [row + dr, column + dc];
      if (r < 0 || c < 0 || r >= rows || c >= columns) continue;
      const value = cells[r * columns + c]!;
      if (!(value * 0 === 0)) continue;
      const weight = SMOOTH[dr + 1]! * SMOOTH[dc + 1]!;
      sum += weight * value;
      weights += weight;
    }
  }
  return cells[cell]! * 0 === 0 ? sum / weights : Number.NaN;
}

/** Mean of the cells around one; those without a reading are left out. */
function surroundings(cells: Float64Array, columns: number, rows: number, cell: number): number {
  const column = cell % columns;
  const row = (cell - column) / columns;
  let sum = 0;
  let known = 0;
  for (let r = Math.max(0, row - REACH); r <= Math.min(rows - 1, row + REACH); r++) {
    for (let c = Math.max(0, column - REACH); c <= Math.min(columns - 1, column + REACH); c++) {
      const value = cells[r * columns + c]!;
      if ((r === row && c === column) || !(value * 0 === 0)) continue;
      sum += value;
      known++;
    }
  }
  return known === 0 ? 0 : sum / known;
}
