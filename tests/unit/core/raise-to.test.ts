import { expect, it } from "vitest";
import { raiseTo } from "../../../src/core/raise-to.js";

it("gives whole powers exactly where they can be held", () => {
  expect([
    raiseTo(3, 5),
    raiseTo(-3, 5),
    raiseTo(-3, 4),
    raiseTo(7, 0),
    raiseTo(0, 0),
    raiseTo(2, -3),
  ]).toEqual([243, -243, 81, 1, 1, 0.125]);
  expect([raiseTo(0, 3), raiseTo(0, -2), raiseTo(10, 22), raiseTo(2, 1000)]).toEqual([
    0,
    Number.POSITIVE_INFINITY,
    1e22,
    2 ** 1000,
  ]);
});

it("gives other powers to 13 digits: known ones of the twelve-tone scale, and inverses", () => {
  // 2^(7/12), the tempered fifth; from any handbook of mathematics.
  expect(raiseTo(2, 7 / 12)).toBeCloseTo(1.498307076876682, 13);
  for (const base of [1e-9, 0.3, 1, 17.25, 4e7])
    for (const exponent of [0.2174, -1.5, 3.7]) {
      const back = raiseTo(raiseTo(base, exponent), 1 / exponent);
      expect(Math.abs(back / base - 1)).toBeLessThan(1e-13);
    }
});

it("is NaN for the root of a negative number, and passes zero, infinity and NaN on", () => {
  expect(raiseTo(-2, 0.5)).toBeNaN();
  expect(raiseTo(Number.NaN, 2)).toBeNaN();
  expect([raiseTo(0, 0.3), raiseTo(Number.POSITIVE_INFINITY, 0.3), raiseTo(0, -0.3)]).toEqual([
    0,
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
  ]);
});
