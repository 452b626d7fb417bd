import { describe, expect, it } from "vitest";
import { averagePowers } from "../../../src/sources/average-powers.js";
import type { CandidatePool } from "../../../src/sources/candidate-pool.js";
import { PLATE_STATES, type PlateState } from "../../../src/sources/plate-state.js";
import type { Candidate } from "../../../src/sources/source-model.js";

const PART = { kind: "heat", ref: "C4" } as Candidate;
const [A, B] = [PLATE_STATES[2]!, PLATE_STATES[8]!];

/** A pool that explains a given χ² with given watts. */
const pool = (state: PlateState, gain: number, watts: number) => ({
  pool: { state, fitSet: () => ({ gain, powersW: Float64Array.of(watts) }) } as unknown as CandidatePool,
  penalty: 0,
});
const errorOf = () => 0.1;

describe("averagePowers", () => {
  it("takes the watts of the one state that explains the rise, with that state's own error", () => {
    const [only] = averagePowers([PART], [pool(A, 900, 0.2), pool(B, 100, 0.7)], 1, errorOf);
    expect(only!.powerW).toBeCloseTo(0.2, 6);
    expect(only!.logSigma).toBeCloseTo(0.1, 6);
  });

  it("between two states that explain it alike stands the geometric mean, half their ratio unsure", () => {
    const [both] = averagePowers([PART], [pool(A, 500, 0.1), pool(B, 500, 0.4)], 1, errorOf);
    expect(both!.powerW).toBeCloseTo(0.2, 9);
    expect(both!.logSigma).toBeCloseTo(Math.hypot(Math.log(2), 0.1), 9);
  });

  it("a state that is unusual before anything is seen counts for less, by exp(−χ²/2)", () => {
    const unusual = { ...pool(B, 500, 0.4), penalty: 2 * Math.log(3) };
    const [leaning] = averagePowers([PART], [pool(A, 500, 0.1), unusual], 1, errorOf);
    // Weights 3 : 1.
    expect(Math.log(leaning!.powerW)).toBeCloseTo(0.75 * Math.log(0.1) + 0.25 * Math.log(0.4), 9);
  });

  it("half a percent of what is explained is no difference, however small the noise", () => {
    const [strong] = averagePowers([PART], [pool(A, 100_000, 0.1), pool(B, 99_900, 0.4)], 1, errorOf);
    expect(strong!.powerW).toBeGreaterThan(0.15);
    expect(strong!.powerW).toBeLessThan(0.2);
  });

  it("a source without watts in any state has none", () => {
    expect(averagePowers([PART], [pool(A, 500, 0)], 1, errorOf)).toEqual([null]);
  });
});
