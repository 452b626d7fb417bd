// Reference: the trigamma function against closed forms and SciPy.
import { describe, expect, it } from "vitest";
import { inverseTrigamma, trigamma } from "../../src/numeric/trigamma.js";

describe("trigamma", () => {
  // Abramowitz & Stegun 1964, 6.4.2 and 6.4.4 (numbers from memory): ψ′(1) = π²/6, ψ′(½) = π²/2, ψ′(n+1) = ψ′(n) −
  // 1/n².
  it.each([
    [1, Math.PI ** 2 / 6],
    [0.5, Math.PI ** 2 / 2],
    [2, Math.PI ** 2 / 6 - 1],
    [4, Math.PI ** 2 / 6 - 1 - 1 / 4 - 1 / 9],
  ])("at %f: %f", (x, value) => {
    expect(trigamma(x) / value).toBeCloseTo(1, 13);
  });

  // SciPy 1.10.1: scipy.special.polygamma(1, x).
  it.each([
    [0.03, 1112.68673602648],
    [7.25, 0.1478792331589322],
    [31.5, 0.03225526826867369],
    [400, 0.002503127604163412],
  ])("at %f as SciPy has it: %f", (x, value) => {
    expect(trigamma(x) / value).toBeCloseTo(1, 12);
  });

  it("and back", () => {
    for (const x of [0.2, 0.9, 3.3, 17, 250]) expect(inverseTrigamma(trigamma(x)) / x).toBeCloseTo(1, 9);
  });

  it("below zero there is none", () => {
    expect(() => trigamma(0)).toThrow(RangeError);
    expect(() => inverseTrigamma(-1)).toThrow(RangeError);
  });
});
