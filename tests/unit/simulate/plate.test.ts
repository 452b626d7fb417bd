import { describe, expect, it } from "vitest";
import {
  makePlateGrid,
  type PlateGrid,
  plateAreaM2,
  solveSteady,
  solveTransient,
} from "../../simulate/plate.js";
import type { Point } from "../../simulate/polygons.js";

// One plate for all checks: k = 20 W/mK, t = 1 mm, h1 + h2 = 20 W/m²K, 0.5 W, a board of 60 × 30 mm.
const CONDUCTANCE = 0.02;
const LOSS = 20;
const CAPACITY = 2000;
const WATTS = 0.5;
const BOARD: Point[] = [
  [0, 0],
  [60, 0],
  [60, 30],
  [0, 30],
];

/** Heat of a Gaussian source, normalised over the cells that are inside. */
function gaussianHeat(grid: PlateGrid, x: number, y: number, sigmaMm: number, watts: number): Float64Array {
  const heat = new Float64Array(grid.inside.length);
  let sum = 0;
  for (let j = 0, c = 0; j < grid.ny; j++) {
    for (let i = 0; i < grid.nx; i++, c++) {
      if (grid.inside[c] === 0) continue;
      const dx = grid.originMm[0] + i * grid.cellMm - x;
      const dy = grid.originMm[1] + j * grid.cellMm - y;
      heat[c] = Math.exp(-(dx * dx + dy * dy) / (2 * sigmaMm * sigmaMm));
      sum += heat[c]!;
    }
  }
  return heat.map((value) => (value * watts) / sum);
}

/** Mean of the four cells around a point that is a corner of cells, or the cells at a corner of the board. */
function at(grid: PlateGrid, rise: Float64Array, x: number, y: number): number {
  const gx = (x - grid.originMm[0]) / grid.cellMm;
  const gy = (y - grid.originMm[1]) / grid.cellMm;
  let sum = 0;
  for (const i of [Math.floor(gx), Math.floor(gx) + 1]) {
    for (const j of [Math.floor(gy), Math.floor(gy) + 1]) {
      const a = Math.max(0, Math.min(grid.nx - 1, i));
      const b = Math.max(0, Math.min(grid.ny - 1, j));
      sum += rise[b * grid.nx + a]! / 4;
    }
  }
  return sum;
}

function sumOverArea(grid: PlateGrid, rise: Float64Array): number {
  return rise.reduce((sum, value) => sum + value, 0) * (grid.cellMm * 1e-3) ** 2;
}

const even = makePlateGrid(BOARD, 0.5, () => CONDUCTANCE);
const constants = { lossWPerM2K: LOSS, heatCapacityJPerM2K: CAPACITY };

describe("steady plate", () => {
  const rise = solveSteady(even, constants, gaussianHeat(even, 20, 10, 1.5, WATTS));

  // Method of images (Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., ch. X; place in the book from
  // memory) and cosine series, computed independently with SciPy; far points don't feel the source's size.
  // Tolerance 0.3 %: cells of 0.5 mm against a source of σ = 1.5 mm.
  it.each([
    [40, 20, 11.565249],
    [60, 30, 9.659475],
    [0, 0, 16.251597],
  ])("at (%f, %f) mm is %f K, as by the method of images", (x, y, expected) => {
    expect(Math.abs(at(even, rise, x, y) / expected - 1)).toBeLessThan(0.003);
  });

  // Cosine series for a Gaussian source of σ = 1.5 mm: 23.547852 K at its centre.
  it("is 23.548 K at the centre of the source, as by the cosine series", () => {
    expect(Math.abs(at(even, rise, 20, 10) / 23.547852 - 1)).toBeLessThan(0.005);
  });

  // Energy balance: insulated edges, so the mean rise is P ÷ (H·A) wherever the source is. 1e-6: the solver's own.
  it("has the mean rise P ÷ (H·A) = 13.8888889 K", () => {
    const mean = sumOverArea(even, rise) / plateAreaM2(even);
    expect(Math.abs(mean / 13.8888889 - 1)).toBeLessThan(1e-6);
  });

  it("keeps that mean with uneven copper and a concave outline", () => {
    const corner: Point[] = [
      [0, 0],
      [41, 0],
      [41, 12],
      [60, 12],
      [60, 30],
      [0, 30],
    ];
    const grid = makePlateGrid(corner, 0.5, (x, y) => 0.01 * (1.2 + Math.sin(x / 5) * Math.cos(y / 3)));
    const uneven = solveSteady(grid, constants, gaussianHeat(grid, 50, 20, 2, WATTS));
    expect(Math.abs(sumOverArea(grid, uneven) / (WATTS / LOSS) - 1)).toBeLessThan(1e-6);
    expect(at(grid, uneven, 50, 20)).toBeGreaterThan(at(grid, uneven, 10, 10));
  });
});

describe("plate after power-on", () => {
  // Whole plate: ∬θ dA = (P/H)(1 − e^(−t/τ)), τ = ρct/H = 100 s; exact for any source and copper.
  // Tolerance 0.5 %: second order in time with eight growing steps.
  it("stores heat as (P/H)(1 − e^(−t/τ))", () => {
    const times = [3, 20, 100, 180];
    const rises = solveTransient(even, constants, gaussianHeat(even, 20, 10, 1.5, WATTS), times);
    for (const [i, t] of times.entries()) {
      const expected = (WATTS / LOSS) * (1 - Math.exp((-t * LOSS) / CAPACITY));
      expect(Math.abs(sumOverArea(even, rises[i]!) / expected - 1)).toBeLessThan(0.005);
    }
  });

  // Gaussian source in a wide plate without loss: θ(0) = P/(4πkt)·ln(1 + 2αt/s²), valid while the heat has not
  // reached the edges: √(4αt) = 11 mm at 3 s. The loss within 3 s takes under 2 %, so 2 % is the tolerance.
  it("warms at the source as P/(4πkt)·ln(1 + 2αt/s²)", () => {
    const grid = makePlateGrid(BOARD, 0.5, () => CONDUCTANCE);
    const s = 1.5;
    const alphaMm2 = (CONDUCTANCE / CAPACITY) * 1e6;
    for (const t of [0.3, 1, 3]) {
      const [rise] = solveTransient(grid, constants, gaussianHeat(grid, 30, 15, s, WATTS), [t]);
      const expected = (WATTS / (4 * Math.PI * CONDUCTANCE)) * Math.log(1 + (2 * alphaMm2 * t) / (s * s));
      expect(Math.abs(at(grid, rise!, 30, 15) / expected - 1)).toBeLessThan(0.02);
    }
  });

  it("ends at the steady rise", () => {
    const heat = gaussianHeat(even, 20, 10, 1.5, WATTS);
    const [late] = solveTransient(even, constants, heat, [2000]);
    const steady = solveSteady(even, constants, heat);
    expect(Math.abs(at(even, late!, 40, 20) / at(even, steady, 40, 20) - 1)).toBeLessThan(0.002);
  });
});
