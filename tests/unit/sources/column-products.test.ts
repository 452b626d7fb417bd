import { describe, expect, it } from "vitest";
import { makeKernels } from "../../../src/numeric/kernels.js";
import { ColumnProducts } from "../../../src/sources/column-products.js";
import { makeRandom } from "../../simulate/random.js";

const SIZE = 3011;

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
  const kernels = makeKernels();
  const fast = new ColumnProducts(pixels, sigma, SIZE, rows, kernels);
  const plain = new ColumnProducts(pixels, sigma, SIZE, rows, null);

  it("makes the plain code's products to the last bit", () => {
    expect(kernels).not.toBeNull();
    expect(fast.gram()).toEqual(plain.gram());
    expect(fast.ready(columns)).toEqual(plain.ready(columns));
    expect(fast.ready([columns[3]!])).toEqual([plain.ready(columns)[3]]);
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
