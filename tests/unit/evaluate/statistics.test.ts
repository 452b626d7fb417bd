import { describe, expect, it } from "vitest";
import { brierWithInterval, calibration, reliability } from "../../evaluate/calibration.js";
import type { Call } from "../../evaluate/score.js";
import {
  inverseOf,
  quantile,
  quantileWithInterval,
  robustScatter,
  rootMeanSquare,
  shareOf,
} from "../../evaluate/statistics.js";
import { makeRandom } from "../../simulate/random.js";

describe("Wilson's interval", () => {
  // Newcombe 1998 (doi 10.1002/(SICI)1097-0258(19980430)17:8<857::AID-SIM777>3.0.CO;2-E), table I, method 3
  // (place from memory; recomputed): 81/263 → 0.2553 … 0.3662, 0/20 → 0 … 0.1611, 15/148 → 0.0624 … 0.1605.
  it.each([
    [81, 263, 0.2553, 0.3662],
    [0, 20, 0, 0.1611],
    [15, 148, 0.0624, 0.1605],
  ])("of %i in %i is %f … %f", (count, of, low, high) => {
    const share = shareOf(Array.from({ length: of }, (_, i) => i < count))!;
    expect(share.low).toBeCloseTo(low, 4);
    expect(share.high).toBeCloseTo(high, 4);
  });
});

describe("quantiles", () => {
  it("lie between order statistics, and their interval on them", () => {
    expect(quantile([4, 1, 3, 2], 0.5)).toBe(2.5);
    expect(quantile([], 0.5)).toBeNull();
    // For the median of 100 the binomial interval runs from the 40th to the 61st (Conover's table, from memory).
    const numbers = Array.from({ length: 100 }, (_, i) => i + 1).reverse();
    expect(quantileWithInterval(numbers, 0.5)).toEqual({ value: 50.5, low: 40, high: 61, of: 100 });
    // Ten numbers say nothing of what lies beyond their 95th percentile.
    expect(quantileWithInterval(numbers.slice(0, 10), 0.95)!.high).toBe(Number.POSITIVE_INFINITY);
  });

  it("have intervals that hold the truth 95 times in 100", () => {
    const random = makeRandom("coverage of quantiles");
    let held = 0;
    for (let i = 0; i < 1000; i++) {
      const drawn = Array.from({ length: 60 }, () => random.next());
      const { low, high } = quantileWithInterval(drawn, 0.5)!;
      if (low <= 0.5 && high >= 0.5) held++;
    }
    // Of 1000 tries 950 ± 7 (one standard deviation); whole order statistics make the interval a little wide.
    expect(held).toBeGreaterThan(930);
    expect(held).toBeLessThan(985);
  });
});

describe("scatter", () => {
  const random = makeRandom("scatter");
  const z = Array.from({ length: 4000 }, () => 1.7 * random.normal());

  it("of normal numbers is their σ by both ways, within the interval it states", () => {
    for (const estimate of [robustScatter(z)!, rootMeanSquare(z)!]) {
      // Twice the stated 95 % half-width: a miss is one in ten thousand.
      expect(Math.abs(estimate.value - 1.7)).toBeLessThan(estimate.high - estimate.low);
      expect(estimate.high - estimate.low).toBeLessThan(0.2);
    }
  });

  it("is unmoved by a few wild ones if it is the robust one", () => {
    const wild = [...z, 400, -700];
    expect(robustScatter(wild)!.value / robustScatter(z)!.value).toBeCloseTo(1, 2);
    expect(rootMeanSquare(wild)!.value).toBeGreaterThan(5);
  });

  it("turns over with its ends changed", () => {
    expect(inverseOf({ value: 2, low: 1.6, high: 2.5, of: 7 })).toEqual({
      value: 0.5,
      low: 0.4,
      high: 0.625,
      of: 7,
    });
    expect(inverseOf(null)).toBeNull();
  });
});

describe("calibration", () => {
  it("is perfect when what is said is what happens, and counts what is off", () => {
    const honest = Array.from({ length: 10 }, (_, i): Call => [0.8, i < 8]);
    expect(calibration(honest).calibrationError).toBeCloseTo(0, 12);
    expect(calibration(honest).brier).toBeCloseTo(0.16, 12); // 0.8·0.2² + 0.2·0.8²
    const boastful = Array.from({ length: 10 }, (_, i): Call => [0.99, i < 6]);
    expect(calibration(boastful).calibrationError).toBeCloseTo(0.39, 12);
    expect(calibration([])).toEqual({ calibrationError: null, brier: null });
  });

  it("gives Brier's score with the interval of its mean", () => {
    const calls: Call[] = [
      [0.9, true],
      [0.9, false],
    ];
    // Terms 0.01 and 0.81: mean 0.41, spread 0.4, standard error 0.4/√2.
    const { value, low, high } = brierWithInterval(calls)!;
    expect(value).toBeCloseTo(0.41, 12);
    expect(high - value).toBeCloseTo((1.959964 * 0.4) / Math.SQRT2, 9);
    expect(low).toBe(0);
  });

  it("draws its curve bin by bin, and marks those that lie", () => {
    const calls = [
      ...Array.from({ length: 40 }, (_, i): Call => [0.97, i < 20]),
      ...Array.from({ length: 50 }, (_, i): Call => [0.3, i < 15]),
      [1, true] as const,
    ];
    const bins = reliability(calls);
    expect(bins[0]).toMatchObject({ from: 0, said: null, came: null, honest: null });
    const lying = bins.find((bin) => bin.from === 0.95)!;
    expect(lying.came?.share).toBe(0.5);
    expect(lying.honest).toBe(false);
    // An edge belongs to the bin above it.
    const edge = bins.find((bin) => bin.from === 0.3)!;
    expect(edge.came?.of).toBe(50);
    expect(edge.honest).toBe(true);
    expect(bins[bins.length - 1]?.came?.of).toBe(1);
    expect(bins.reduce((sum, bin) => sum + (bin.came?.of ?? 0), 0)).toBe(91);
  });
});
