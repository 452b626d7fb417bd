import { afterEach, describe, expect, it } from "vitest";
import { useKernels } from "../../../src/numeric/kernels.js";
import { type Column, columnProduct, wholeColumn } from "../../../src/sources/column.js";
import { ColumnProducts } from "../../../src/sources/column-products.js";
import { makeRandom } from "../../simulate/random.js";
import { bothWays } from "../numeric/both-ways.js";

const SIZE = 3011;
const WIDE_AT = Int32Array.from([...Array(SIZE).keys()].filter((pixel) => pixel % 3 !== 1));

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
    rows: Array.from({ length: rowCount }, () => wholeColumn(numbers(SIZE))),
    columns: Array.from({ length: 19 }, () => wholeColumn(numbers(SIZE))),
    // Two pixels of three, and the same as they stand in all.
    wide: Array.from({ length: 3 }, () => ({ at: WIDE_AT, values: numbers(WIDE_AT.length), wide: true })),
    sparse: [0.2, 0.7].map((share) => {
      const at = Int32Array.from([...pixels.keys()].filter(() => random.chance(share)));
      return { at, values: numbers(at.length) };
    }),
  };
}

describe.each([
  [2507, 5],
  [1024, 18],
  [3, 1],
])("ColumnProducts over %i pixels with %i rows", (count, rowCount) => {
  const { pixels, sigma, rows, columns, wide, sparse } = problem(count, rowCount);
  const make = () => new ColumnProducts(pixels, sigma, SIZE, rows, sparse);
  const fast = make();
  const plain = plainly(make);

  /** What both give, which is the same. */
  function both<T>(ask: (products: ColumnProducts) => T): T {
    const [a, b] = bothWays((withKernels) => ask(withKernels ? fast : plain));
    useKernels(true);
    expect(a).toEqual(b);
    return a;
  }

  it("makes the plain code's products to the last bit", () => {
    both((products) => products.gram());
    const ready = both((products) => products.ready(columns));
    expect(fast.ready([columns[3]!])).toEqual([ready[3]]);
    for (let k = 0; k < rowCount; k++) expect(fast.row(k)).toEqual(plainly(() => plain.row(k)));
    for (const column of sparse) both((products) => products.ofSparse(column));
    for (const one of [columns[18]!, wide[1]!]) {
      const own = fast.whitened(one);
      expect(own).toEqual(plainly(() => plain.whitened(one)));
      const others = [...columns, ...wide];
      both((products) => products.withOne(others, own));
      // … and those that whole columns have with one another.
      expect([...fast.withOne(others, own)]).toEqual(
        others.map((other) => columnProduct(wholeColumn(plain.whitened(other)), wholeColumn(own))),
      );
      for (const column of sparse) {
        expect(fast.withSparse(one, column)).toBe(columnProduct(wholeColumn(own), column));
      }
    }
  });

  it("takes a wide column for the whole one with zeros elsewhere", () => {
    const whole = wide.map(({ at, values }) => {
      const all = new Float32Array(SIZE);
      values.forEach((value, k) => {
        all[at[k]!] = value;
      });
      return wholeColumn(all);
    });
    expect(fast.ready(wide)).toEqual(fast.ready(whole));
    expect(plainly(() => plain.ready(wide))).toEqual(fast.ready(whole));
  });

  it("does so when another problem has had the kernels in between", () => {
    const before = fast.ready(columns.slice(0, 2));
    const other = problem(601, 7);
    new ColumnProducts(other.pixels, other.sigma, SIZE, other.rows).ready(other.columns);
    expect(fast.ready(columns.slice(0, 2))).toEqual(before);
    const beforeWide = fast.ready(wide);
    new ColumnProducts(other.pixels, other.sigma, SIZE, other.rows).ready(other.wide);
    expect(fast.ready(wide)).toEqual(beforeWide);
    expect(fast.gram()).toEqual(plainly(() => plain.gram()));
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
    const whiten = ({ values }: Column) =>
      Array.from(pixels, (pixel, k) => Math.fround(values[pixel]! / sigma[k]!));
    const own = whiten(columns[0]!);
    const whiteRows = rows.map(whiten);
    expect([...fast.whitened(columns[0]!)]).toEqual(own);
    const dot = (a: ArrayLike<number>, b: ArrayLike<number>) =>
      Array.from(a).reduce((sum, value, k) => sum + value * b[k]!, 0);
    // Sums of up to 2507 products of order one: rounding in another order stays far below 1e-10.
    expect(first!.norm).toBeCloseTo(dot(own, own), 9);
    whiteRows.forEach((row, k) => {
      expect(first!.products[k]).toBeCloseTo(dot(own, row), 9);
    });
    expect(fast.gram()[rowCount * rowCount - 1]).toBeCloseTo(dot(whiteRows.at(-1)!, whiteRows.at(-1)!), 9);
    sparse.forEach(({ at, values }, s) => {
      const of = (row: ArrayLike<number>) => values.reduce((sum, value, k) => sum + value * row[at[k]!]!, 0);
      expect(first!.withSparse[s]).toBeCloseTo(of(own), 9);
      expect(fast.ofSparse(sparse[s]!)[rowCount - 1]).toBeCloseTo(of(whiteRows.at(-1)!), 9);
    });
  });
});
