import { describe, expect, it } from "vitest";
import { entropyBits, expectedGain } from "../../../src/suspects/expected-gain.js";

describe("entropyBits", () => {
  it("eight horses of Cover & Thomas, Elements of Information Theory, §1.1 (from memory): 2 bits", () => {
    const odds = [1 / 2, 1 / 4, 1 / 8, 1 / 16, 1 / 64, 1 / 64, 1 / 64, 1 / 64];
    expect(entropyBits(odds)).toBeCloseTo(2, 12);
    expect(entropyBits(odds.map((p) => 7 * p))).toBeCloseTo(2, 12);
  });

  it("certainty leaves no doubt, and what can't be adds none", () => {
    expect(entropyBits([1])).toBe(0);
    expect(entropyBits([0, 3, 0])).toBe(0);
    expect(entropyBits([0.5, 0, 0.5])).toBeCloseTo(1, 12);
  });
});

describe("expectedGain", () => {
  it("a yes or no that is wrong once in ten (binary symmetric channel, ibid. §7.1.4): 1 − H(0.1) = 0.531004 bits", () => {
    const rows = [
      [0.9, 0.1],
      [0.1, 0.9],
    ];
    expect(expectedGain([0.5, 0.5], rows)).toBeCloseTo(0.531004, 6);
  });

  it("an outcome that is lost three times in ten (erasure channel, ibid. §7.1.5): 0.7 of the doubt", () => {
    const rows = [
      [0.7, 0.3, 0],
      [0, 0.3, 0.7],
    ];
    expect(expectedGain([0.2, 0.8], rows)).toBeCloseTo(0.7 * entropyBits([0.2, 0.8]), 12);
  });

  it("the same outcome whatever is the case tells nothing; one for each tells all", () => {
    const same = [
      [0.3, 0.7],
      [0.3, 0.7],
      [3, 7],
    ];
    expect(expectedGain([0.2, 0.5, 0.3], same)).toBeCloseTo(0, 12);
    const each = [
      [1, 0, 0],
      [0, 2, 0],
      [0, 0, 1],
    ];
    expect(expectedGain([0.2, 0.5, 0.3], each)).toBeCloseTo(entropyBits([0.2, 0.5, 0.3]), 12);
  });

  it("what can't be the case changes nothing, also where nothing is known of what it would show", () => {
    const rows = [
      [1, 0],
      [0, 1],
    ];
    for (const last of [
      [0, 0],
      [0.4, 0.6],
    ])
      expect(expectedGain([0.5, 0.5, 0], [...rows, last])).toBe(1);
  });

  it("nothing in question, nothing gained", () => {
    expect(expectedGain([], [])).toBe(0);
    expect(expectedGain([0, 0], [[1], [1]])).toBe(0);
  });
});
