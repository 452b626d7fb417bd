import { describe, expect, it } from "vitest";
import { normalFromStudent } from "../../../src/numeric/student-to-normal.js";

describe("normalFromStudent", () => {
  // Two-sided 5 % and 1 % points of Student's t (as printed in every table of it, from memory) belong to 1.960 and
  // 2.576.
  it.each([
    [3, 3.182, 1.96],
    [4, 2.776, 1.96],
    [10, 2.228, 1.96],
    [30, 2.042, 1.96],
    [3, 5.841, 2.576],
    [5, 4.032, 2.576],
    [20, 2.845, 2.576],
  ])("with %i degrees of freedom, t = %f is z = %f", (freedom, t, z) => {
    // The approximation errs by up to 0.06 at 3 degrees of freedom (scipy 1.10.1); at these points by 0.033.
    expect(Math.abs(normalFromStudent(t, freedom) - z)).toBeLessThan(0.035);
    expect(normalFromStudent(-t, freedom)).toBe(-normalFromStudent(t, freedom));
  });

  it("is t itself for infinitely many, and refuses none", () => {
    expect(normalFromStudent(1.7, Number.POSITIVE_INFINITY)).toBe(1.7);
    expect(() => normalFromStudent(1, 0)).toThrow(RangeError);
  });
});
