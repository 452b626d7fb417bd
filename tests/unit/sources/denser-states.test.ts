import { describe, expect, it } from "vitest";
import { denserStates } from "../../../src/sources/denser-states.js";

/** χ² of a parabola in the logarithm of the time, watts as a power of the time. */
const at = (u: number) => ({
  chi2: 3 + 7 * (u - 1.3) ** 2,
  powerW: 0.2 * Math.exp(-0.8 * u),
  logSigma: 0.2 + 0.01 * u,
});

describe("states between states", () => {
  it("a parabola, a power of the time and an even spread come out exactly, to the ends", () => {
    for (const count of [3, 4, 6]) {
      const denser = denserStates(
        Array.from({ length: count }, (_, k) => at(k)),
        4,
      );
      expect(denser).toHaveLength(4 * (count - 1) + 1);
      for (const [i, one] of denser.entries()) {
        const exact = at(i / 4);
        expect(one.chi2).toBeCloseTo(exact.chi2, 9);
        expect(one.powerW).toBeCloseTo(exact.powerW, 12);
        expect(one.logSigma).toBeCloseTo(exact.logSigma, 12);
      }
    }
  });

  it("of two states goes evenly from one to the other; of one, and in one part, nothing changes", () => {
    const two = [at(0), at(1)];
    const [, middle] = denserStates(two, 2);
    expect(middle!.chi2).toBeCloseTo((two[0]!.chi2 + two[1]!.chi2) / 2, 12);
    expect(denserStates(two, 1)).toEqual(two);
    expect(denserStates([at(0)], 4)).toEqual([at(0)]);
  });

  it("adds nothing beside a state without watts", () => {
    const states = [at(0), { ...at(1), powerW: 0 }, at(2), at(3)];
    const denser = denserStates(states, 3);
    expect(denser).toHaveLength(6);
    expect(denser.filter(({ powerW }) => powerW === 0)).toHaveLength(1);
  });
});
