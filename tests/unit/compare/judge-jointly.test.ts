import { describe, expect, it } from "vitest";
import { type JointRatio, judgeJointly } from "../../../src/compare/judge-jointly.js";

const ratio = (log: number, sigma: number, own = sigma): JointRatio => ({ log, sigma, own });

describe("judgeJointly", () => {
  it("is, of one part alone, the root of χ² less what a change costs", () => {
    // Nothing but the power: (−1 ÷ 0.2)² = 25, and 4.4 for a change.
    const [only] = judgeJointly([ratio(-1, 0.2)], 0, 0);
    expect(only).toBeCloseTo(-Math.sqrt(25 - 4.4), 9);
    expect(judgeJointly([ratio(0.4, 0.2)], 0, 0)).toEqual([0]);
  });

  it("tells the one part that explains all ratios and the power fed in", () => {
    // Half of the power is fed in; two parts are as they were, and one takes a fifth.
    const half = -Math.LN2;
    const z = judgeJointly([ratio(-1.6, 0.3), ratio(0, 0.3), ratio(0, 0.3)], half, 0.05);
    // Without the first: both others changed, and it keeps to the power, at −ln 2 by (0.907 ÷ 0.3)².
    const without = ((1.6 - Math.LN2) / 0.3) ** 2 + 8.8;
    expect(z[0]).toBeCloseTo(-Math.sqrt(without - 4.4), 9);
    expect(z.slice(1)).toEqual([0, 0]);
  });

  it("leaves all alone where they go with the power, or keep their watts beside one that is out of the question", () => {
    expect(judgeJointly([ratio(0.69, 0.2), ratio(0.7, 0.3)], Math.LN2, 0.05)).toEqual([0, 0]);
    expect(judgeJointly([], 0.3, 0.05)).toEqual([]);
  });

  it("takes what the plate's state errs in for one error of all", () => {
    // Both look half as strong, by a state that errs by 0.6 alike: no change. With errors of their own they would
    // differ from the power.
    const shared = judgeJointly(
      [ratio(-0.7, Math.hypot(0.1, 0.6), 0.1), ratio(-0.7, Math.hypot(0.1, 0.6), 0.1)],
      0,
      0,
    );
    expect(shared).toEqual([0, 0]);
    // One that differs from the other by seven sigma of their own, which the state does not make; that which is nearer
    // the power stays.
    const apart = judgeJointly(
      [ratio(-1.1, Math.hypot(0.1, 0.6), 0.1), ratio(-0.1, Math.hypot(0.1, 0.6), 0.1)],
      0,
      0,
    );
    expect(apart[0]).toBeLessThan(-1);
    expect(apart[1]).toBe(0);
    // χ² of both by the inverse of [[0.37, 0.36], [0.36, 0.37]], of one alone by 0.37, and a change.
    const determinant = 0.37 ** 2 - 0.36 ** 2;
    const both = (0.37 * (1.1 ** 2 + 0.1 ** 2) - 2 * 0.36 * 1.1 * 0.1) / determinant;
    const second = 1.1 ** 2 / 0.37 + 4.4;
    const first = 0.1 ** 2 / 0.37 + 4.4;
    expect(apart[0]).toBeCloseTo(-Math.sqrt(Math.min(both, second) - first), 6);
  });

  it("counts what is not known of the power as one error of all, too", () => {
    const sure = judgeJointly([ratio(0.5, 0.1), ratio(0.5, 0.1)], 0, 0);
    const doubtful = judgeJointly([ratio(0.5, 0.1), ratio(0.5, 0.1)], 0, 0.5);
    // Nobody knows which of the two changed; with a power known to 0.5 none has to.
    expect(sure).toEqual([expect.closeTo(Math.sqrt(25 - 4.4), 9), expect.closeTo(Math.sqrt(25 - 4.4), 9)]);
    expect(doubtful).toEqual([0, 0]);
  });
});
