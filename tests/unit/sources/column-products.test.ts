import { afterEach, describe, expect, it } from "vitest";
import { sharedKernels, useKernels } from "../../../src/numeric/kernels.js";
import { ColumnProducts } from "../../../src/sources/column-products.js";
import { makeRandom } from "../../simulate/random.js";

const SIZE = 3011;

afterEach(() => useKernels(true));

/** The same without WebAssembly. */
function plainly<T>(make: () => T): T {
  useKernels(false);
  const out = make();
  useKernels(true);
  return out;
}

/** @param count pixels that take part: over one stretch of the kernel, and not a multiple of four. */
function problem(count: number, rowCount: number) {
  const random = makeRandom(`products ${count} ${rowCount}`);
  const pixels = Int32Array.from({ length: count }, (_, k) => Math.floor((k * SIZE) / count));
  const numbers = (length: number) => Float32Array.from({ length }, () => random.normal());
  return {
    pixels,
    sigma: Float32Array.from({ length: count }, () => random.uniform(0.3, 2)),
    rows: Array.from({ length: rowCount }, () => numbers(count)),
    columns: Array.from({ length: 19 }, () => numbers(SIZE)),
  };
}

describe.each([
  [2507, 5],
  [1024, 18],
  [3, 1],
])("ColumnProducts over %i pixels with %i rows", (count, rowCount) => {
  const { pixels, sigma, rows, columns } = problem(count, rowCount);
  const fast = new ColumnProducts(pixels, sigma, SIZE, rows);
  const plain = new ColumnProducts(pixels, sigma, SIZE, rows);

  it("makes the plain code's products to the last bit", () => {
    expect(sharedKernels()).not.toBeNull();
    expect(fast.gram()).toEqual(plainly(() => plain.gram()));
    const ready = plainly(() => plain.ready(columns));
    expect(fast.ready(columns)).toEqual(ready);
    expect(fast.ready([columns[3]!])).toEqual([ready[3]]);
  });

  it("does so when another problem has had the kernels in between", () => {
    const before = fast.ready(columns.slice(0, 2));
    const other = problem(601, 7);
    new ColumnProducts(other.pixels, other.sigma, SIZE, other.rows).ready(other.columns);
    expect(fast.ready(columns.slice(0, 2))).toEqual(before);
  });

  it("adds rows to a picture as the plain code does", () => {
    const start = Float32Array.from({ length: count }, (_, k) => Math.sin(k));
    const amounts = rows.map((_, k) => 0.3 * (k + 1));
    const [a, b] = [start.slice(), start.slice()];
    fast.addRows(a, 0, amounts);
    plainly(() => plain.addRows(b, 0, amounts));
    expect(a).toEqual(b);
    expect(a).not.toEqual(start);
  });

  it("makes those that plain sums make", () => {
    const [first] = fast.ready(columns);
    const own = Array.from(pixels, (pixel, k) => Math.fround(columns[0]![pixel]! / sigma[k]!));
    expect([...first!.whitened]).toEqual(own);
    const dot = (a: ArrayLike<number>, b: ArrayLike<number>) =>
      Array.from(a).reduce((sum, value, k) => sum + value * b[k]!, 0);
    // Sums of up to 2507 products of order one: rounding in another order stays far below 1e-10.
    expect(first!.norm).toBeCloseTo(dot(own, own), 9);
    rows.forEach((row, k) => {
      expect(first!.products[k]).toBeCloseTo(dot(own, row), 9);
    });
    expect(fast.gram()[rowCount * rowCount - 1]).toBeCloseTo(dot(rows.at(-1)!, rows.at(-1)!), 9);
  });
});
