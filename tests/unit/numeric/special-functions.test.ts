import { describe, expect, it } from "vitest";
import { normalQuantile, normalTail, zForTail } from "../../../src/numeric/normal-distribution.js";
import { besselI0, besselI1, besselK0, besselK1 } from "../../reference/bessel.js";
import { expIntegral } from "../../reference/expint.js";

describe("ends and refusals", () => {
  it("Bessel functions", () => {
    expect(besselI0(0)).toBe(1);
    expect(besselI1(0)).toBe(0);
    expect(besselI0(-3)).toBe(besselI0(3));
    expect(besselI1(-3)).toBe(-besselI1(3));
    expect(besselI0(710)).toBeLessThan(Number.POSITIVE_INFINITY);
    expect(besselK0(0)).toBe(Number.POSITIVE_INFINITY);
    expect(besselK1(0)).toBe(Number.POSITIVE_INFINITY);
    expect(besselK0(800)).toBe(0);
    expect(() => besselK0(-1)).toThrow(RangeError);
    expect(() => besselK1(Number.NaN)).toThrow(RangeError);
  });

  it("exponential integral", () => {
    expect(expIntegral(0)).toBe(Number.POSITIVE_INFINITY);
    expect(expIntegral(800)).toBe(0);
    expect(() => expIntegral(-0.1)).toThrow(RangeError);
  });

  it("normal distribution", () => {
    expect(normalTail(Number.POSITIVE_INFINITY)).toBe(0);
    expect(normalTail(Number.NEGATIVE_INFINITY)).toBe(1);
    expect(normalTail(Number.NaN)).toBeNaN();
    expect(zForTail(0)).toBe(Number.POSITIVE_INFINITY);
    expect(zForTail(1)).toBe(Number.NEGATIVE_INFINITY);
    expect(normalQuantile(0.5)).toBe(0);
    expect(() => zForTail(-1e-9)).toThrow(RangeError);
    expect(() => zForTail(Number.NaN)).toThrow(RangeError);
  });
});

describe("no step where one method hands over to the next", () => {
  // Both sides within 1e-12 of the truth, and the point moves by 1e-14 of itself.
  it.each([
    ["K0 at 2", besselK0, 2],
    ["K1 at 2", besselK1, 2],
    ["I0 at 20", besselI0, 20],
    ["I1 at 20", besselI1, 20],
    ["E1 at 1", expIntegral, 1],
    ["tail at 2√2", normalTail, 2 * Math.SQRT2],
  ] as const)("%s", (_, compute, at) => {
    expect(Math.abs(compute(at * (1 - 1e-14)) / compute(at * (1 + 1e-14)) - 1)).toBeLessThan(2e-12);
  });
});
