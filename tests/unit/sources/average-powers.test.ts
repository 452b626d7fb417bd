import { describe, expect, it } from "vitest";
import { averagePowers, powerSigma } from "../../../src/sources/average-powers.js";
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

  it("each of several sources has watts of its own, and errors of its own where a state gives it none", () => {
    const two = { kind: "heat", ref: "U1" } as Candidate;
    const states = [A, B].map((state, i) => ({
      pool: {
        state,
        fitSet: () => ({ gain: 500, powersW: Float64Array.of(0.1, i === 0 ? 0.3 : 0) }),
      } as unknown as CandidatePool,
      penalty: 0,
    }));
    const [first, second] = averagePowers([PART, two], states, 1, (state) => (state === A ? 0.1 : 0.3));
    expect(first!.powerW).toBeCloseTo(0.1, 9);
    expect(first!.logSigma).toBeCloseTo(Math.sqrt((0.01 + 0.09) / 2), 9);
    expect(second!.powerW).toBeCloseTo(0.3, 9);
    expect(second!.logSigma).toBeCloseTo(0.1, 9);
  });

  it("the state that explains most may be far from the time that was told: then the others tell the watts", () => {
    // e^-300 of its own weight, and e^(-20/2) of what it explains: alone against what it would count it was nothing.
    const far = { ...pool(A, 520, 0.1), penalty: 600 };
    const [told] = averagePowers([PART], [far, pool(B, 480, 0.4)], 1, errorOf);
    expect(told!.powerW).toBeCloseTo(0.4, 9);
    expect(told!.logSigma).toBeCloseTo(0.1, 9);
    // As much as both would, moved by a penalty that all states share.
    const shared = [pool(A, 500, 0.1), pool(B, 499, 0.4)];
    const all = averagePowers(
      [PART],
      shared.map((one) => ({ ...one, penalty: 40 })),
      1,
      errorOf,
    );
    expect(all[0]!.powerW).toBeCloseTo(averagePowers([PART], shared, 1, errorOf)[0]!.powerW, 9);
  });

  it("watts that only a hopeless state gives are none", () => {
    const pools = [pool(A, 900, 0), pool(B, 100, 0.7)];
    expect(averagePowers([PART], pools, 1, errorOf)).toEqual([null]);
  });
});

describe("powerSigma", () => {
  it("is the noise's where the state leaves nothing open", () => {
    expect(powerSigma({ powerW: 0.4, logSigma: 0 }, 0.09)).toBeCloseTo(0.3, 12);
  });

  it("joins the noise and the state as independent errors, and ends at a factor that says nothing any more", () => {
    const [state, noise] = [0.3, 0.09];
    expect(powerSigma({ powerW: 0.4, logSigma: state }, noise)).toBeCloseTo(
      Math.hypot(0.3, powerSigma({ powerW: 0.4, logSigma: state }, 0)),
      12,
    );
    expect(powerSigma({ powerW: 0.4, logSigma: 3 }, 0)).toBe(powerSigma({ powerW: 0.4, logSigma: 1.5 }, 0));
  });

  it.each([0.05, 0.2, 0.35, 0.5, 0.8, 1.1, 1.5])(
    "1.645 of it to either side hold nine tenths of watts whose logarithm scatters by %f",
    (logSigma) => {
      const reach = 1.645 * powerSigma({ powerW: 1, logSigma }, 0);
      let [inside, all] = [0, 0];
      for (let z = -6; z <= 6; z += 1e-3) {
        const weight = Math.exp(-(z * z) / 2);
        all += weight;
        if (Math.abs(Math.exp(logSigma * z) - 1) <= reach) inside += weight;
      }
      // The two rules meet at a scatter of 0.4, where either leaves a percent more outside or inside.
      expect(Math.abs(inside / all - 0.9)).toBeLessThan(0.012);
    },
  );
});
