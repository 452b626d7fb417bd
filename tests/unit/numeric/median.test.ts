import { describe, expect, it } from "vitest";
import {
  median,
  medianAbsoluteDeviation,
  medianOfSorted,
  quantile,
  robustSigma,
} from "../../../src/numeric/median.js";

describe("median and its kin", () => {
  it("takes the middle one, or the mean of the middle two", () => {
    expect(median([7, -2, 5])).toBe(5);
    expect(median(Float32Array.of(7, -2, 5, 6))).toBe(5.5);
  });

  it("leaves NaN out; nothing left gives NaN", () => {
    expect(median([Number.NaN, 3, Number.NaN, 9, 4])).toBe(4);
    expect(median([Number.NaN])).toBeNaN();
    expect(quantile([], 0.3)).toBeNaN();
    expect(robustSigma([])).toBeNaN();
  });

  it("infinities are numbers like others", () => {
    expect(median([Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, 1, 2])).toBe(Number.POSITIVE_INFINITY);
    expect(median([Number.NEGATIVE_INFINITY, 1, 2])).toBe(1);
  });

  it("of sorted numbers it looks at the first so many alone", () => {
    const sorted = Float64Array.of(-3, 1, 2, 40, 900);
    expect([5, 4, 3, 2, 1].map((count) => medianOfSorted(sorted, count))).toEqual([2, 1.5, 1, -1, -3]);
    expect(medianOfSorted(sorted, 0)).toBeNaN();
  });

  it("two huge middle values don't overflow", () => {
    expect(median([1.6e308, 1.2e308])).toBeCloseTo(1.4e308, -296);
  });

  it("a quantile lies between neighbours in rank", () => {
    // Position (5 − 1)·0.3 = 1.2: a fifth of the way from the second to the third.
    expect(quantile([50, 10, 40, 20, 30], 0.3)).toBeCloseTo(22, 12);
    expect(() => quantile([1, 2], 1.2)).toThrow(RangeError);
    expect(() => quantile([1, 2], Number.NaN)).toThrow(RangeError);
  });

  it("the deviation from a given centre", () => {
    expect(medianAbsoluteDeviation([1, 2, 10], undefined, 0)).toBe(2);
  });

  it("half the numbers may be anything", () => {
    const values = Float64Array.from({ length: 2001 }, (_, i) => (i % 2 === 0 ? i / 1000 : 1e9));
    // 1001 of 2001 are spread evenly over 0…2; the rest sits on the high side.
    expect(robustSigma(values)).toBeLessThan(1.5 * 2);
  });

  it("leaves its input alone and uses given memory", () => {
    const values = Float32Array.of(3, 1, 2);
    const scratch = new Float64Array(5);
    expect(median(values, scratch)).toBe(2);
    expect(Array.from(values)).toEqual([3, 1, 2]);
    expect(() => median(values, new Float64Array(2))).toThrow(RangeError);
  });

  it("orders that are bad for selection: rising, falling, all equal, organ pipe, two values", () => {
    const n = 5001;
    const makers: ((i: number) => number)[] = [
      (i) => i,
      (i) => n - i,
      () => 4,
      (i) => Math.min(i, n - i),
      (i) => i % 2,
    ];
    for (const maker of makers) {
      const values = Float64Array.from({ length: n }, (_, i) => maker(i));
      expect(median(values)).toBe(values.slice().sort()[n >> 1]);
    }
  });
});
