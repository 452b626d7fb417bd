// The plate against worked cases: P = 0.5 W, k = 20 W/mK, t = 1 mm, h1 + h2 = 20 W/m²K, cooling length 31.6 mm.
// Infinite plate: θ(r) = P/(2πkt)·K0(r/L) (Carslaw & Jaeger 1959, ch. X, from memory; Hantush & Jacob 1955,
// doi 10.1029/TR036i001p00095, for groundwater). Insulated board of 60×30 mm: images and a cosine series, both
// computed with SciPy 1.10. Mean rise: P/(h·A) exactly, from the balance of energy.
import { beforeAll, describe, expect, it } from "vitest";
import { heatFootprint } from "../../src/sources/heat-footprint.js";
import { makePlateGrid, type PlateGrid } from "../../src/sources/plate-grid.js";
import { plateRise } from "../../src/sources/plate-rise.js";
import { factorPlate } from "../../src/sources/plate-solver.js";
import { besselK0, besselK1 } from "./bessel.js";

const WATTS = 0.5;
const LOSS = 20;
const CONDUCTANCE = 0.02;
const LENGTH_MM = 1e3 * Math.sqrt(CONDUCTANCE / LOSS);

/** A grid finer or coarser than the tool's own. */
const cells = (shortSideCells: number) =>
  ({ shortSideCells, minStepMm: 0.1 as number }) as Parameters<typeof makePlateGrid>[1];

const rectangle = (w: number, h: number): [number, number][] => [
  [0, 0],
  [w, 0],
  [w, h],
  [0, h],
];

/** Rise of a Gaussian source, normalised over the board, K per unknown. */
function gaussianRise(grid: PlateGrid, x: number, y: number, sigmaMm: number): Float64Array {
  const heat = Float64Array.from(grid.cellOf, (cell) => {
    const dx = grid.x0Mm + (cell % grid.columns) * grid.stepMm - x;
    const dy = grid.y0Mm + Math.floor(cell / grid.columns) * grid.stepMm - y;
    return Math.exp(-(dx * dx + dy * dy) / (2 * sigmaMm * sigmaMm));
  });
  const sum = heat.reduce((a, b) => a + b, 0);
  const cellM2 = (grid.stepMm * 1e-3) ** 2;
  return factorPlate(grid, LENGTH_MM).solve(heat.map((q) => (q / sum) * (WATTS / (cellM2 * LOSS))));
}

/** Bilinear between cell centres, the outermost cells held beyond them. */
function at(grid: PlateGrid, rise: Float64Array, x: number, y: number): number {
  const u = Math.min(grid.columns - 1, Math.max(0, (x - grid.x0Mm) / grid.stepMm));
  const v = Math.min(grid.rows - 1, Math.max(0, (y - grid.y0Mm) / grid.stepMm));
  const c = Math.min(grid.columns - 2, Math.floor(u));
  const r = Math.min(grid.rows - 2, Math.floor(v));
  const value = (dc: number, dr: number) => rise[grid.unknownOf[(r + dr) * grid.columns + c + dc]!]!;
  const top = value(0, 0) + (u - c) * (value(1, 0) - value(0, 0));
  const foot = value(0, 1) + (u - c) * (value(1, 1) - value(0, 1));
  return top + (v - r) * (foot - top);
}

describe("an insulated board of 60×30 mm, a source at (20, 10) mm", () => {
  let grid: PlateGrid;
  let point: Float64Array;
  beforeAll(() => {
    grid = makePlateGrid(rectangle(60, 30), cells(75));
    point = gaussianRise(grid, 20, 10, 0.3);
  });

  // Columns: images (a point), cosine series (a source of 0.3 mm). Cells of 0.4 mm: five-point differences err by
  // (step/L)²/12 of the curvature, some 1e-4 of the rise away from the source; 2e-3 of it are allowed, a tenth of what
  // would be seen, and far from the infinite plate's answer.
  it.each([
    [40, 20, 11.565249, 11.56577, 2.598642],
    [60, 30, 9.659475, 9.65991, 0.951517],
    [0, 0, 16.251597, 16.252328, 2.598642],
    [30, 15, 14.706663, 14.707325, 4.868818],
  ])("at (%i, %i) mm", (x, y, images, series, infinite) => {
    const found = at(grid, point, x, y);
    expect(Math.abs(found / images - 1)).toBeLessThan(2e-3);
    expect(Math.abs(found / series - 1)).toBeLessThan(2e-3);
    // On a board of this size the law of the infinite plate is no approximation at all.
    expect(found / infinite).toBeGreaterThan(2.9);
  });

  it("the infinite plate is 4.45 times too low 22.4 mm from the source", () => {
    const infinite = (WATTS / (2 * Math.PI * CONDUCTANCE)) * besselK0(Math.hypot(20, 10) / LENGTH_MM);
    expect(infinite).toBeCloseTo(2.598642, 6);
    expect(at(grid, point, 40, 20) / infinite).toBeCloseTo(4.45, 1);
  });

  it("a Gaussian source of 1.5 mm: 23.55 K at its centre", () => {
    const spread = gaussianRise(grid, 20, 10, 1.5);
    // Cells of 0.4 mm under a source of 1.5 mm: (0.4/1.5)²/24 of its own part of the rise, 0.3 %.
    expect(Math.abs(at(grid, spread, 20, 10) / 23.547852 - 1)).toBeLessThan(4e-3);
  });

  it("the mean rise is P/(h·A) = 13.8888889 K, whatever the grid and wherever the source", () => {
    const exact = WATTS / (LOSS * 60e-3 * 30e-3);
    expect(exact).toBeCloseTo(13.8888889, 7);
    const coarse = makePlateGrid(rectangle(60, 30), cells(15));
    for (const [g, x, y] of [
      [grid, 20, 10],
      [coarse, 58.3, 1.2],
    ] as const) {
      const rise = gaussianRise(g, x, y, 0.9);
      const mean = rise.reduce((a, b) => a + b, 0) / rise.length;
      // Every cell's balance holds to rounding: thousands of cells, a condition number of (L/step)² = 6000.
      expect(Math.abs(mean / exact - 1)).toBeLessThan(1e-9);
    }
  });

  it("the tool's own default grid and footprint of a small part stay within 2 % of the point source's answer", () => {
    const usual = makePlateGrid(rectangle(60, 30));
    const footprint = heatFootprint(usual, [
      [19.5, 9.7],
      [20.5, 9.7],
      [20.5, 10.3],
      [19.5, 10.3],
    ])!;
    const perWatt = plateRise(usual, factorPlate(usual, LENGTH_MM), footprint, 1 / LOSS, [1]);
    // Cells of 0.58 mm: (0.58/22)² or so away from the source, corners half a cell from the outermost centre.
    expect(Math.abs((WATTS * at(usual, perWatt, 40, 20)) / 11.565249 - 1)).toBeLessThan(5e-3);
    expect(Math.abs((WATTS * at(usual, perWatt, 30, 15)) / 14.706663 - 1)).toBeLessThan(5e-3);
    expect(Math.abs((WATTS * at(usual, perWatt, 0, 0)) / 16.251597 - 1)).toBeLessThan(2e-2);
  });
});

describe("a plate many cooling lengths wide follows the infinite plate's law", () => {
  // L = 3 mm on a plate of 48×42 mm: at its edges e^(−7) of the heat is left.
  const lengthMm = 3;
  const grid = makePlateGrid(rectangle(48, 42), cells(105));
  const conductance = 2e-3;
  const loss = conductance / (lengthMm * 1e-3) ** 2;
  const small: [number, number][] = [
    [23.8, 20.8],
    [24.2, 20.8],
    [24.2, 21.2],
    [23.8, 21.2],
  ];
  const rise = plateRise(grid, factorPlate(grid, lengthMm), heatFootprint(grid, small)!, 1 / loss, [1]);

  it.each([2, 3, 4.5, 6, 9])("%f mm from the source: P/(2πkt)·K0(r/L)", (rMm) => {
    const law = besselK0(rMm / lengthMm) / (2 * Math.PI * conductance);
    for (const [dx, dy] of [
      [1, 0],
      [0, -1],
      [0.6, 0.8],
    ] as const) {
      const found = at(grid, rise, 24 + rMm * dx, 21 + rMm * dy);
      // Five-point differences: (step/r)²/4 near the source (0.4 mm at 2 mm: 1 %), a source of 0.4 mm and more (r50
      // of its own), linear reading between cells: together 2 %.
      expect(Math.abs(found / law - 1)).toBeLessThan(0.02);
    }
  });

  it("the share of the heat released within r is 1 − (r/L)·K1(r/L); half of it within 1.25715 L", () => {
    const r50 = 1.25715;
    expect(1 - r50 * besselK1(r50)).toBeCloseTo(0.5, 5);
    const within = (rMm: number): number => {
      let sum = 0;
      let all = 0;
      rise.forEach((value, k) => {
        const cell = grid.cellOf[k]!;
        const dx = grid.x0Mm + (cell % grid.columns) * grid.stepMm - 24;
        const dy = grid.y0Mm + Math.floor(cell / grid.columns) * grid.stepMm - 21;
        all += value;
        if (Math.hypot(dx, dy) <= rMm) sum += value;
      });
      return sum / all;
    };
    // A circle of 24 cells' circumference in cells of 0.4 mm: a percent of it.
    expect(Math.abs(within(r50 * lengthMm) - 0.5)).toBeLessThan(0.01);
    expect(Math.abs(within(3.21432 * lengthMm) - 0.9)).toBeLessThan(0.01);
  });
});
