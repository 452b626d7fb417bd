// False discovery rate and assignment against published worked examples.
import { describe, expect, it } from "vitest";
import { assignPairs } from "../../src/numeric/assignment.js";
import { benjaminiHochberg } from "../../src/numeric/benjamini-hochberg.js";

describe("Benjamini & Hochberg 1995, J. R. Stat. Soc. B 57:289: the paper's own example", () => {
  const chances = [
    0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719, 0.6528,
    0.759, 1,
  ];
  // Recomputed; the same numbers stand in the test data of an independent library.
  const adjusted = [
    0.0015, 0.003, 0.0095, 0.035625, 0.0603, 0.063857, 0.063857, 0.0645, 0.0765, 0.486, 0.581182, 0.714875,
    0.753231, 0.813214, 1,
  ];

  it("rejects four at 5 %, where a limit of 5 %/15 for each rejects three", () => {
    const found = benjaminiHochberg(chances, 0.05);
    expect(found.count).toBe(4);
    expect(Array.from(found.rejected)).toEqual([1, 1, 1, 1, ...new Array(11).fill(0)]);
    expect(chances.filter((chance) => chance <= 0.05 / 15).length).toBe(3);
  });

  it("adjusted values, to the six decimals printed, in whatever order they come", () => {
    const order = [7, 3, 14, 0, 9, 1, 12, 5, 2, 13, 4, 8, 6, 11, 10];
    const found = benjaminiHochberg(
      order.map((i) => chances[i]!),
      0.05,
    );
    order.forEach((i, at) => {
      expect(Math.abs(found.adjusted[at]! - adjusted[i]!)).toBeLessThan(6e-7);
    });
  });
});

describe("assignPairs", () => {
  const solve = (table: number[][]) =>
    assignPairs(Float64Array.from(table.flat()), table.length, table[0]!.length);

  // Kuhn 1955, Nav. Res. Logist. Q. 2:83 (the last, as a rating to be made large); the others from the documentation
  // and tests of independent libraries; totals recomputed.
  it.each([
    {
      table: [
        [4, 1, 3],
        [2, 0, 5],
        [3, 2, 2],
      ],
      total: 5,
      columns: [1, 0, 2],
    },
    {
      table: [
        [400, 150, 400],
        [400, 450, 600],
        [300, 225, 300],
      ],
      total: 850,
      columns: [1, 0, 2],
    },
    {
      table: [
        [400, 150, 400, 1],
        [400, 450, 600, 2],
        [300, 225, 300, 3],
      ],
      total: 452,
      columns: null,
    },
    {
      table: [
        [10, 10, 8],
        [9, 8, 1],
        [9, 7, 4],
      ],
      total: 18,
      columns: [0, 2, 1],
    },
    {
      table: [
        [10, 10, 8, 11],
        [9, 8, 1, 1],
        [9, 7, 4, 10],
      ],
      total: 15,
      columns: null,
    },
    {
      table: [
        [5, 9, 1],
        [10, 3, 2],
        [8, 7, 4],
      ],
      total: 12,
      columns: null,
    },
    {
      table: [
        [82, 83, 69, 92],
        [77, 37, 49, 92],
        [11, 69, 5, 86],
        [8, 9, 98, 23],
      ],
      total: 140,
      columns: [2, 1, 0, 3],
    },
    {
      table: [
        [20, 22, 14, 24],
        [20, 19, 12, 20],
        [13, 10, 18, 16],
        [22, 23, 9, 28],
      ],
      total: 59,
      columns: [0, 3, 1, 2],
    },
    {
      table: [
        [1, 2, 3],
        [2, 4, 6],
        [3, 6, 9],
      ],
      total: 10,
      columns: [2, 1, 0],
    },
    {
      table: [
        [-8, -7, -9, -9],
        [-5, -2, -7, -8],
        [-6, -1, -4, -9],
        [-2, -3, -2, -6],
      ],
      total: -27,
      columns: [0, 2, 3, 1],
    },
  ])("$table: $total", ({ table, total, columns }) => {
    const found = solve(table);
    expect(found.totalCost).toBe(total);
    if (columns !== null) expect(Array.from(found.columnOfRow)).toEqual(columns);
    expect(new Set(found.columnOfRow).size).toBe(table.length);
    // Rows and columns swapped: the same total, and the pairs belong to it.
    const turned = solve(table[0]!.map((_, c) => table.map((row) => row[c]!)));
    expect(turned.totalCost).toBe(total);
  });

  it.each([4, 5])("products of row and column, %i×%i: the largest with the smallest", (n) => {
    const table = Array.from({ length: n }, (_, r) => Array.from({ length: n }, (_, c) => (r + 1) * (c + 1)));
    expect(solve(table).totalCost).toBe(n === 4 ? 20 : 35);
    expect(Array.from(solve(table).columnOfRow)).toEqual(Array.from({ length: n }, (_, r) => n - 1 - r));
  });
});
