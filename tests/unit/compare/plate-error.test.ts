import { describe, expect, it } from "vitest";
import { plateError } from "../../../src/compare/plate-error.js";

const excess = (...logs: number[]) => logs.map((log) => ({ log, sigma: 0.2 }));

describe("plateError", () => {
  it("is none, and as uncertain as it is as a rule, where nothing measures it", () => {
    // 0.15 in four of five, 0.7 in one of five: the mixture's variance is 0.8 × 0.15² + 0.2 × 0.7², cut off at 2.5.
    const { log, sigma } = plateError([], 0);
    expect(log).toBeCloseTo(0, 9);
    expect(sigma).toBeCloseTo(Math.sqrt(0.8 * 0.15 ** 2 + 0.2 * 0.7 ** 2), 2);
  });

  it("is what several parts tell alike, and less of what one tells, which may be astray itself", () => {
    const alone = plateError(excess(1.2), 0);
    const alike = plateError(excess(1.2, 1.3, 1.1), 0);
    expect(alike.log).toBeGreaterThan(1);
    expect(alike.log).toBeLessThan(1.3);
    expect(alike.sigma).toBeLessThan(0.2);
    expect(alone.log).toBeLessThan(0.9);
    expect(alone.sigma).toBeGreaterThan(2 * alike.sigma);
  });

  it("lets one part among several be astray", () => {
    const { log } = plateError(excess(0.1, 0, -2.5, 0.05), 0);
    expect(Math.abs(log)).toBeLessThan(0.1);
  });

  it("is the same the other way round with the attempts exchanged", () => {
    const there = plateError(excess(0.7, 0.4), 0.3);
    const back = plateError(excess(-0.7, -0.4), 0.3);
    expect(back.log).toBeCloseTo(-there.log, 9);
    expect(back.sigma).toBeCloseTo(there.sigma, 9);
  });

  it("is a number however many parts contradict each other", () => {
    const { log, sigma } = plateError(
      excess(...Array.from({ length: 200 }, (_, k) => (k % 2 === 0 ? 9 : -9))),
      0,
    );
    expect(Math.abs(log)).toBeLessThan(2.5);
    expect(sigma).toBeGreaterThanOrEqual(0);
  });

  it("is found where the plate was in another state, far off", () => {
    const near = plateError(excess(1.3), 0).log;
    expect(plateError(excess(1.3), 0.6).log).toBeGreaterThan(near);
  });
});
