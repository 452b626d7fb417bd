import { describe, expect, it } from "vitest";
import { analyse } from "../../../src/findings/analyse.js";
import { BOARD, makeAttempt, VIEW } from "./make-attempt.js";

const run = (watts: Readonly<Record<string, number>>, seed: string, driftK = 0) => {
  const attempt = makeAttempt({ watts, seed, driftK });
  return analyse({ ...attempt, board: BOARD, view: VIEW, volts: 1, amps: 0.5 }).findings.energy!;
};

describe("boardLoss", () => {
  it("of a board at rest is the power that went in, wherever it went in", () => {
    for (const watts of [{ U1: 0.21 }, { C2: 0.18 }, { U1: 0.1, Q1: 0.13 }]) {
      const truth = Object.values(watts).reduce((a, b) => a + b, 0);
      const { boardLossW, boardLossSigmaW } = run(watts, `at rest ${truth}`);
      // The bodies' own warmth, which the plate does not have, adds some per cent; the rest is within the stated error.
      expect(Math.abs(boardLossW! - truth)).toBeLessThan(2 * boardLossSigmaW!);
      expect(boardLossSigmaW! / truth).toBeLessThan(0.3);
    }
  });

  it("is blind to the camera's drift, for the bench beside the board drifts along", () => {
    const still = run({ U1: 0.21 }, "drift").boardLossW!;
    // Single precision rounds readings of 25 °C by 1e-6 K, against rises of some tenths of a kelvin.
    expect(run({ U1: 0.21 }, "drift", 0.9).boardLossW! / still).toBeCloseTo(1, 5);
  });
});
