import { describe, expect, it } from "vitest";
import { oddsOverStates } from "../../../src/sources/odds-over-states.js";

/** States that explain the rest alike. */
const alike = (...odds: number[]) => odds.map((logOdds) => ({ logOdds, gain: 12, penalty: 0 }));

describe("oddsOverStates", () => {
  it("one state: its own odds", () => {
    expect(oddsOverStates(alike(1.7))).toBeCloseTo(1.7, 12);
  });

  it("states alike: the mean of the odds, not of their logarithms", () => {
    // Odds of 8, 1 and 3: 4 on average.
    expect(oddsOverStates(alike(Math.log(8), 0, Math.log(3)))).toBeCloseTo(Math.log(4), 12);
  });

  it("a state counts by e^(χ²/2) of what it explains, less what speaks against it", () => {
    const worse = { logOdds: Math.log(9), gain: 12 - 2 * Math.log(3), penalty: 0 };
    const unusual = { logOdds: Math.log(9), gain: 12, penalty: 2 * Math.log(3) };
    // Weights 1 : 1/3, odds 1 and 9: (1 + 3) ÷ (4/3).
    for (const other of [worse, unusual]) {
      expect(oddsOverStates([...alike(0), other])).toBeCloseTo(Math.log(3), 12);
    }
  });

  it("sure heat in one state and none in another stays a number", () => {
    const both = oddsOverStates(alike(Number.POSITIVE_INFINITY, -3));
    expect(both).toBeGreaterThan(40);
    expect(both).toBeLessThan(50);
  });

  it("a state that explains thousands of χ² more is the only one that counts", () => {
    const far = { logOdds: 8, gain: 1000, penalty: 0 };
    for (const states of [
      [{ logOdds: 1.2, gain: 4000, penalty: 30 }, far],
      [far, { logOdds: 1.2, gain: 4000, penalty: 30 }],
    ])
      expect(oddsOverStates(states)).toBeCloseTo(1.2, 12);
  });
});
