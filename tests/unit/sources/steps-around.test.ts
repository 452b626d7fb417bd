import { describe, expect, it } from "vitest";
import { stepsAround } from "../../../src/sources/steps-around.js";

describe("stepsAround", () => {
  it("counts steps over shared edges, and does not leave the picture or go round its sides", () => {
    // 5 × 3, from the right end of the first row.
    const steps = stepsAround([4], 5, 3, 2);
    expect(Object.fromEntries(steps)).toEqual({ 4: 0, 3: 1, 9: 1, 2: 2, 8: 2, 14: 2 });
  });

  it("from several pixels: the nearest counts", () => {
    const steps = stepsAround([0, 6], 7, 1, 3);
    expect([...Array(7).keys()].map((i) => steps.get(i))).toEqual([0, 1, 2, 3, 2, 1, 0]);
  });

  it("no steps: the start alone; what lies outside is passed over", () => {
    expect([...stepsAround([-1, 2, 99], 3, 2, 0)]).toEqual([[2, 0]]);
  });
});
