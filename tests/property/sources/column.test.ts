// Columns that leave out their zeros answer as the whole rows of numbers do that they stand for.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  addColumn,
  type Column,
  columnProduct,
  joinColumns,
  pictureColumn,
  wholeColumn,
  windowColumn,
} from "../../../src/sources/column.js";
import { denseOf, dot } from "../../unit/sources/dense-column.js";

/** Whole numbers, often 0: their products and sums are exact in any order. */
const amount = fc.oneof(fc.constant(0), fc.integer({ min: -9, max: 9 }));
const rows = (size: number) =>
  fc.array(amount, { minLength: size, maxLength: size }).map((list) => Float32Array.from(list));

const sparse = (values: Float32Array): Column => {
  const at = Int32Array.from([...values.keys()].filter((i) => values[i] !== 0));
  return { at, values: Float32Array.from(at, (i) => values[i]!) };
};

/** A column of so many pixels, as whole numbers or without its zeros. */
const column = (size: number) =>
  fc.tuple(rows(size), fc.boolean()).map(([values, whole]) => (whole ? wholeColumn(values) : sparse(values)));

const sized = <T>(of: (size: number) => fc.Arbitrary<T>) =>
  fc.integer({ min: 1, max: 23 }).chain((size) => fc.tuple(fc.constant(size), of(size)));

describe("columnProduct", () => {
  it("is the sum over all pixels, in whichever form either comes, and the same both ways round", () => {
    fc.assert(
      fc.property(
        sized((size) => fc.tuple(column(size), column(size))),
        ([size, [a, b]]) => {
          const expected = dot(denseOf(a, size), denseOf(b, size));
          expect(columnProduct(a, b)).toBe(expected);
          expect(columnProduct(b, a)).toBe(expected);
        },
      ),
    );
  });

  it("keeps double precision over a million pixels", () => {
    const ones = wholeColumn(new Float32Array(1_000_003).fill(0.1));
    // 0.1 in single precision is 0.100000001490116; single-precision sums would be off by 1e-4 and more.
    expect(Math.abs(columnProduct(ones, ones) / (1_000_003 * Math.fround(0.1) ** 2) - 1)).toBeLessThan(1e-10);
  });
});

describe("addColumn", () => {
  it("adds a multiple to what is there, and touches no other pixel", () => {
    fc.assert(
      fc.property(
        sized((size) => fc.tuple(column(size), rows(size), fc.integer({ min: -5, max: 5 }))),
        ([size, [a, to, times]]) => {
          const dense = denseOf(a, size);
          const expected = Array.from(to, (value, i) => value + times * dense[i]!);
          addColumn(to, a, times);
          // −0 and 0 are one number here.
          expect(Array.from(to, (v) => v + 0)).toEqual(expected.map((v) => v + 0));
        },
      ),
    );
  });
});

/** A window in a picture, both of any size, width and height of their own. */
const placedWindow = fc
  .tuple(fc.integer({ min: 1, max: 5 }), fc.integer({ min: 1, max: 4 }), fc.integer({ min: 0, max: 6 }))
  .chain(([width, height, offset]) =>
    fc.record({
      width: fc.constant(width),
      height: fc.constant(height),
      offset: fc.constant(offset),
      x0: fc.integer({ min: 0, max: 4 }),
      y0: fc.integer({ min: 0, max: 3 }),
      right: fc.integer({ min: 0, max: 3 }),
      below: fc.integer({ min: 0, max: 2 }),
      values: rows(width * height),
    }),
  );

describe("windowColumn", () => {
  it("shows the window's values at their pixels of their picture and nothing elsewhere; pixels ascend", () => {
    fc.assert(
      fc.property(placedWindow, ({ width, height, offset, x0, y0, right, below, values }) => {
        const frameWidth = x0 + width + right;
        const size = offset + frameWidth * (y0 + height + below);
        const made = windowColumn({ x0, y0, width, height }, frameWidth, offset, values);
        const expected = new Float64Array(size);
        for (let y = 0; y < height; y++) {
          for (let x = 0; x < width; x++)
            expected[offset + (y0 + y) * frameWidth + x0 + x] = values[y * width + x]!;
        }
        expect(denseOf(made, size)).toEqual(expected);
        expect([...made.values]).not.toContain(0);
        expect([...made.at!]).toEqual([...made.at!].sort((a, b) => a - b));
      }),
    );
  });
});

describe("pictureColumn and joinColumns", () => {
  it("pictures one after the other: each column shows in its own, the joined one in all", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 7 }).chain(rows), { minLength: 2, maxLength: 4 }),
        (pictures) => {
          const size = pictures.reduce((sum, values) => sum + values.length, 0);
          let offset = 0;
          const columns = pictures.map((values) => {
            const made = pictureColumn(values, offset, size);
            const dense = denseOf(made, size);
            expect([...dense.subarray(offset, offset + values.length)]).toEqual([...values]);
            expect(dot(dense, dense)).toBe(dot(values, values));
            offset += values.length;
            return made;
          });
          const joined = joinColumns(columns)!;
          expect([...denseOf(joined, size)]).toEqual(pictures.flatMap((values) => [...values]));
          // Behind one another the pixels still ascend, as products of two sparse columns want it.
          const [first, last] = [columns[0]!, columns.at(-1)!];
          expect(columnProduct(joined, first)).toBe(dot(first.values, first.values));
          expect(columnProduct(last, joined)).toBe(dot(last.values, last.values));
        },
      ),
    );
  });

  it("the only picture's column covers all pixels; one column joined is itself, none is none", () => {
    const values = Float32Array.from([3, 0, -2]);
    const only = pictureColumn(values, 0, 3);
    expect(only).toEqual({ at: null, values });
    expect(joinColumns([only])).toBe(only);
    expect(joinColumns([])).toBeNull();
  });
});
