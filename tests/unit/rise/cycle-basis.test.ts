import { describe, expect, it } from "vitest";
import { cycleBasis } from "../../../src/rise/cycle-basis.js";

const dot = (a: Float64Array, b: Float64Array): number => a.reduce((sum, value, n) => sum + value * b[n]!, 0);

const cases = [
  [1000, 20],
  [1000, 17.3],
  [64, 7.3],
  [40, 6.1],
  [16, 7],
  [16, 4],
  [16, 2.4],
  [23, 11.5],
] as const;

describe("cycleBasis", () => {
  it.each(cases)(
    "%i frames, period %f: amplitudes of a cosine and a sine come out, drift does not",
    (count, period) => {
      const { cosine, sine } = cycleBasis(count, period);
      const turn = (2 * Math.PI) / period;
      const course = Float64Array.from({ length: count }, (_, n) => {
        const x = n / count;
        return 3 + 0.7 * x - 1.9 * x * x + 0.31 * Math.cos(turn * n) - 0.17 * Math.sin(turn * n);
      });
      // Rounding of a fit of at most nine courses.
      expect(dot(cosine, course)).toBeCloseTo(0.31, 9);
      expect(dot(sine, course)).toBeCloseTo(-0.17, 9);
    },
  );

  it("harmonics do not leak in, even where the sequence holds no whole number of periods", () => {
    const { cosine, sine } = cycleBasis(57, 9.3);
    const turn = (2 * Math.PI) / 9.3;
    for (const order of [2, 3]) {
      const course = Float64Array.from({ length: 57 }, (_, n) => Math.cos(order * turn * n - 0.6));
      expect(dot(cosine, course)).toBeCloseTo(0, 9);
      expect(dot(sine, course)).toBeCloseTo(0, 9);
    }
  });

  it.each(cases)(
    "%i frames, period %f: two or more neighbours, blind to drift, supply and each other",
    (count, period) => {
      const { fitted, neighbours, gain } = cycleBasis(count, period);
      expect(neighbours.length).toBeGreaterThanOrEqual(2);
      const courses = neighbours.flat();
      courses.forEach((one, k) => {
        expect(Math.sqrt(dot(one, one))).toBeCloseTo(gain, 9);
        for (const other of [...fitted, ...courses.slice(0, k)]) expect(dot(one, other)).toBeCloseTo(0, 9);
      });
    },
  );

  it("every period that is allowed has two neighbours or more, from the fewest frames on", () => {
    for (const count of [16, 17, 19, 25]) {
      for (let period = 2 / (1 - 1 / count); period <= count / 2; period += 0.037) {
        expect(cycleBasis(count, period).neighbours.length, `${count}, ${period}`).toBeGreaterThanOrEqual(2);
      }
    }
  });

  it("white noise of σ leaves √(2/N)·σ for whole periods, and hardly more for broken ones", () => {
    // Slope and bend are not quite orthogonal to a wave of 50 periods: some 0.2 %.
    expect(cycleBasis(1000, 20).gain / Math.sqrt(2 / 1000)).toBeCloseTo(1, 2);
    // The worst is a sequence of two periods and a third, where the bend looks like the wave: 8 %.
    for (const [count, period] of cases) {
      const ratio = cycleBasis(count, period).gain / Math.sqrt(2 / count);
      expect(ratio).toBeGreaterThan(0.999);
      expect(ratio).toBeLessThan(1.09);
    }
  });
});
