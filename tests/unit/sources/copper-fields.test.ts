import { describe, expect, it } from "vitest";
import { boardPoint } from "../../../src/core/units.js";
import { copperFields } from "../../../src/sources/copper-fields.js";
import { makePlateGrid } from "../../../src/sources/plate-grid.js";

const OUTLINE: [number, number][] = [
  [0, 0],
  [60, 0],
  [60, 40],
  [0, 40],
];
const GRID = makePlateGrid(OUTLINE);
const cellAt = (x: number, y: number): number => {
  const column = Math.round((x - GRID.x0Mm) / GRID.stepMm);
  const row = Math.round((y - GRID.y0Mm) / GRID.stepMm);
  return GRID.unknownOf[row * GRID.columns + column]!;
};

describe("fields of copper", () => {
  const fields = copperFields(GRID, [boardPoint(20, 15)], { places: 24, lattice: 20 });
  const covariance = (i: number, j: number) => fields.reduce((sum, field) => sum + field[i]! * field[j]!, 0);

  it("vary by a third around a source, and leave what a map tells as it is", () => {
    for (const [x, y] of [
      [20, 15],
      [22, 16],
      [17, 15],
    ] as const) {
      // Between the places at which it is told, less of it is.
      const sd = Math.sqrt(covariance(cellAt(x, y), cellAt(x, y)));
      expect(sd).toBeGreaterThan(0.25);
      expect(sd).toBeLessThan(0.36);
    }
    for (const field of fields) {
      expect(Math.abs(field.reduce((sum, value) => sum + value, 0))).toBeLessThan(1e-9 * field.length);
    }
  });

  it("are much alike some millimetres apart and hardly across the board", () => {
    const [here, near, far] = [cellAt(20, 15), cellAt(26, 15), cellAt(55, 35)];
    const correlation = (a: number, b: number) =>
      covariance(a, b) / Math.sqrt(covariance(a, a) * covariance(b, b));
    expect(correlation(here, near)).toBeGreaterThan(0.4);
    expect(correlation(here, near)).toBeLessThan(0.75);
    expect(Math.abs(correlation(here, far))).toBeLessThan(0.25);
  });

  it("reach over the whole board", () => {
    for (const [x, y] of [
      [5, 5],
      [50, 30],
      [55, 8],
    ] as const) {
      expect(Math.sqrt(covariance(cellAt(x, y), cellAt(x, y)))).toBeGreaterThan(0.15);
    }
  });
});
