import { describe, expect, it } from "vitest";
import { boundsOf, pointInPolygon } from "../../../src/board/polygon.js";
import { heatFootprint } from "../../../src/sources/heat-footprint.js";
import { makePlateGrid, type PlateGrid } from "../../../src/sources/plate-grid.js";
import { factorPlate } from "../../../src/sources/plate-solver.js";
import { makeRandom } from "../../simulate/random.js";

const L_SHAPE: [number, number][] = [
  [3, 2],
  [43, 2],
  [43, 14],
  [21, 14],
  [21, 30],
  [3, 30],
];

/** A grid of so many cells along its shorter side. */
const cells = (shortSideCells: number) => ({ shortSideCells }) as Parameters<typeof makePlateGrid>[1];

/** Neighbours of an unknown that lie on the board, as numbers of unknowns. */
function neighboursOf(grid: PlateGrid, unknown: number): number[] {
  const cell = grid.cellOf[unknown]!;
  const column = cell % grid.columns;
  const out: number[] = [];
  if (column > 0) out.push(grid.unknownOf[cell - 1]!);
  if (column + 1 < grid.columns) out.push(grid.unknownOf[cell + 1]!);
  if (cell >= grid.columns) out.push(grid.unknownOf[cell - grid.columns]!);
  if (cell + grid.columns < grid.unknownOf.length) out.push(grid.unknownOf[cell + grid.columns]!);
  return out.filter((k) => k >= 0);
}

describe("makePlateGrid", () => {
  it("covers a concave board and nothing else; cells and unknowns name each other", () => {
    const grid = makePlateGrid(L_SHAPE);
    const area = (40 * 12 + 18 * 16) / grid.stepMm ** 2;
    // A cell belongs to the board if its centre does: along 140 mm of edge half a cell each way.
    expect(Math.abs(grid.cellOf.length / area - 1)).toBeLessThan(0.03);
    grid.cellOf.forEach((cell, k) => {
      expect(grid.unknownOf[cell]).toBe(k);
      const x = grid.x0Mm + (cell % grid.columns) * grid.stepMm;
      const y = grid.y0Mm + Math.floor(cell / grid.columns) * grid.stepMm;
      expect(pointInPolygon(L_SHAPE, [x, y])).toBe(true);
    });
    expect(grid.unknownOf.filter((k) => k >= 0)).toHaveLength(grid.cellOf.length);
  });

  it("its cells lie over the board's bounding box, centred", () => {
    const grid = makePlateGrid(L_SHAPE);
    const { minX, maxX, minY, maxY } = boundsOf(L_SHAPE);
    const middle = [
      grid.x0Mm + ((grid.columns - 1) / 2) * grid.stepMm,
      grid.y0Mm + ((grid.rows - 1) / 2) * grid.stepMm,
    ];
    expect(middle[0]).toBeCloseTo((minX + maxX) / 2, 9);
    expect(middle[1]).toBeCloseTo((minY + maxY) / 2, 9);
    expect(Math.abs(grid.columns * grid.stepMm - 40)).toBeLessThan(grid.stepMm);
    expect(Math.abs(grid.rows * grid.stepMm - 28)).toBeLessThan(grid.stepMm);
  });

  it("neighbours are mutual and within the bandwidth", () => {
    const grid = makePlateGrid(L_SHAPE, cells(20));
    for (let k = 0; k < grid.cellOf.length; k++) {
      const around = neighboursOf(grid, k);
      expect(around.length).toBeGreaterThan(0);
      expect(around.length).toBeLessThanOrEqual(4);
      for (const j of around) {
        expect(neighboursOf(grid, j)).toContain(k);
        expect(Math.abs(j - k)).toBeLessThanOrEqual(grid.bandwidth);
      }
    }
  });
});

describe("factorPlate", () => {
  const grid = makePlateGrid(L_SHAPE, cells(24));
  const n = grid.cellOf.length;
  const solver = factorPlate(grid, 9);
  const random = makeRandom("heat on an L");
  const heat = () => Float64Array.from({ length: n }, () => random.uniform(0, 1));
  const dot = (a: Float64Array, b: Float64Array) => a.reduce((sum, v, k) => sum + v * b[k]!, 0);

  it("the rise fulfils the plate's equation in every cell", () => {
    const q = heat();
    const rise = solver.solve(q);
    const coupling = (9 / grid.stepMm) ** 2;
    for (let k = 0; k < n; k++) {
      let balance = rise[k]! - q[k]!;
      for (const j of neighboursOf(grid, k)) balance += coupling * (rise[k]! - rise[j]!);
      // A condition number of 8·coupling = 500 at 1 K.
      expect(Math.abs(balance)).toBeLessThan(1e-10);
    }
  });

  it("is its own adjoint: ⟨a, G·b⟩ = ⟨G·a, b⟩", () => {
    const [a, b] = [heat(), heat()];
    const left = dot(a, solver.solve(b));
    expect(Math.abs(dot(solver.solve(a), b) / left - 1)).toBeLessThan(1e-12);
  });

  it("keeps all of the heat, adds up, is nowhere colder than nothing, and leaves its input", () => {
    const [a, b] = [heat(), heat()];
    const before = Float64Array.from(a);
    const riseA = solver.solve(a);
    expect(a).toEqual(before);
    const sum = (values: Float64Array) => values.reduce((s, v) => s + v, 0);
    expect(Math.abs(sum(riseA) / sum(a) - 1)).toBeLessThan(1e-11);
    const both = solver.solve(a.map((v, k) => v + 3 * b[k]!));
    const riseB = solver.solve(b);
    both.forEach((value, k) => {
      expect(Math.abs(value - riseA[k]! - 3 * riseB[k]!)).toBeLessThan(1e-11);
    });
    expect(Math.min(...riseA)).toBeGreaterThan(0);
  });

  it("even heat gives an even rise, q/h", () => {
    for (const value of solver.solve(new Float64Array(n).fill(2.5))) expect(value).toBeCloseTo(2.5, 10);
  });
});

describe("heatFootprint", () => {
  const grid = makePlateGrid(L_SHAPE);
  const centreOf = (footprint: NonNullable<ReturnType<typeof heatFootprint>>) => {
    let x = 0;
    let y = 0;
    footprint.unknowns.forEach((k, i) => {
      const cell = grid.cellOf[k]!;
      x += footprint.shares[i]! * (grid.x0Mm + (cell % grid.columns) * grid.stepMm);
      y += footprint.shares[i]! * (grid.y0Mm + Math.floor(cell / grid.columns) * grid.stepMm);
    });
    return [x, y] as const;
  };

  it("shares sum to 1 and keep the part's centre, even for a part smaller than a cell", () => {
    for (const [x, y, w, h] of [
      [10.13, 9.21, 0.2, 0.1],
      [25.4, 6.3, 5.7, 3.1],
    ] as const) {
      const footprint = heatFootprint(grid, [
        [x, y],
        [x + w, y],
        [x + w, y + h],
        [x, y + h],
      ])!;
      expect(footprint.shares.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
      expect(Math.min(...footprint.shares)).toBeGreaterThan(0);
      const [cx, cy] = centreOf(footprint);
      // A lattice that is symmetric about the centre, shared linearly between cells: exact to rounding.
      expect(cx).toBeCloseTo(x + w / 2, 9);
      expect(cy).toBeCloseTo(y + h / 2, 9);
    }
  });

  it("a part that hangs over the outline puts its whole watt on the board", () => {
    const over = heatFootprint(grid, [
      [1, 10],
      [5, 10],
      [5, 12],
      [1, 12],
    ])!;
    expect(over.shares.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
  });

  it("a part off the board heats nothing: null", () => {
    expect(
      heatFootprint(grid, [
        [30, 20],
        [36, 20],
        [36, 25],
        [30, 25],
      ]),
    ).toBeNull();
  });
});
