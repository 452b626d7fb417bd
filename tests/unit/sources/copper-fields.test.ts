import { describe, expect, it } from "vitest";
import { boardPoint } from "../../../src/core/units.js";
import { copperFields, UNEVEN_COPPER } from "../../../src/sources/copper-fields.js";
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

  it("averaged over what heat crosses vary by what the watts of a place are taken to differ by", () => {
    // An average has the mean covariance of all pairs of its places: here of rings at even steps of the logarithm of
    // the distance.
    const spreadTo = (farMm: number): number => {
      const places = Array.from({ length: 24 * 12 }, (_, i) => {
        const [ring, step] = [Math.floor(i / 12), i % 12];
        const radius = farMm ** ((ring + 0.5) / 24);
        // Turned from ring to ring, so that no line of places is counted twice.
        const angle = (2 * Math.PI * (step + 0.618 * ring)) / 12;
        return [radius * Math.cos(angle), radius * Math.sin(angle)] as const;
      });
      let sum = 0;
      for (const [x, y] of places)
        for (const [u, v] of places) sum += 0.35 ** 2 * Math.exp(-Math.hypot(x - u, y - v) / 10);
      return Math.sqrt(sum) / places.length;
    };
    expect([5, 8, 20].map((mm) => Number(spreadTo(mm).toFixed(2)))).toEqual([0.3, 0.28, 0.24]);
    expect(UNEVEN_COPPER).toBeCloseTo(spreadTo(5), 2);
  });
});
