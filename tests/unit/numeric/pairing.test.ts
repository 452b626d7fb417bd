import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { assignPairs } from "../../../src/numeric/assignment.js";
import { benjaminiHochberg } from "../../../src/numeric/benjamini-hochberg.js";

describe("benjaminiHochberg", () => {
  it("does not count what was not tested", () => {
    const found = benjaminiHochberg([0.04, Number.NaN, 0.6], 0.1);
    expect(Array.from(found.rejected)).toEqual([1, 0, 0]);
    expect(found.adjusted[0]).toBeCloseTo(0.08, 12);
    expect(found.adjusted[1]).toBeNaN();
    expect(benjaminiHochberg([], 0.1).count).toBe(0);
  });

  it("a smaller chance is rejected together with a larger one that passes", () => {
    // 0.04 alone would need 0.025; 0.05 as the second of two passes at 0.05.
    expect(benjaminiHochberg([0.04, 0.05], 0.05).count).toBe(2);
  });

  it("refuses what is no chance", () => {
    expect(() => benjaminiHochberg([0.1], 0)).toThrow(RangeError);
    expect(() => benjaminiHochberg([1.1], 0.1)).toThrow(RangeError);
  });
});

describe("assignPairs", () => {
  const never = Number.POSITIVE_INFINITY;

  it("leaves a row alone that may have no partner, and makes as many pairs as it can", () => {
    const found = assignPairs(Float64Array.of(never, never, 1, never), 2, 2);
    expect(Array.from(found.columnOfRow)).toEqual([-1, 0]);
    expect(found.totalCost).toBe(1);
    // The cheap pair (0, 0) would leave row 1 alone.
    expect(Array.from(assignPairs(Float64Array.of(1, 900, 2, never), 2, 2).columnOfRow)).toEqual([1, 0]);
  });

  it("nothing to pair", () => {
    expect(assignPairs(new Float64Array(0), 0, 3)).toEqual({ columnOfRow: new Int32Array(0), totalCost: 0 });
    expect(Array.from(assignPairs(new Float64Array(0), 2, 0).columnOfRow)).toEqual([-1, -1]);
  });

  it("refuses what is no cost", () => {
    expect(() => assignPairs(Float64Array.of(1, 2, 3), 2, 2)).toThrow(RangeError);
    expect(() => assignPairs(Float64Array.of(Number.NaN), 1, 1)).toThrow(RangeError);
    expect(() => assignPairs(Float64Array.of(-never), 1, 1)).toThrow(RangeError);
  });

  it("is as cheap as the best of all pairings", () => {
    const best = (costs: number[][], row: number, used: number): number => {
      if (row === costs.length) return 0;
      let least = never;
      costs[row]!.forEach((cost, column) => {
        if ((used >> column) % 2 === 0)
          least = Math.min(least, cost + best(costs, row + 1, used | (1 << column)));
      });
      return least;
    };
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 4 }),
        fc.integer({ min: 4, max: 6 }),
        fc.array(fc.integer({ min: -9, max: 30 }), { minLength: 24, maxLength: 24 }),
        (rows, columns, numbers) => {
          const costs = Float64Array.from(numbers.slice(0, rows * columns));
          const table = Array.from({ length: rows }, (_, r) =>
            Array.from(costs.slice(r * columns, (r + 1) * columns)),
          );
          expect(assignPairs(costs, rows, columns).totalCost).toBe(best(table, 0, 0));
        },
      ),
    );
  });
});
