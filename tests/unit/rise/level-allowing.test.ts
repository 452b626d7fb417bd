import { describe, expect, it } from "vitest";
import { levelAllowing } from "../../../src/rise/level-allowing.js";

describe("levelAllowing", () => {
  it("finds the level at which as many are expected as allowed", () => {
    // 100·2^(−level) falls to 0.05 at log2(2000); what is left of the interval after sixty halvings is rounding.
    expect(levelAllowing((level) => 100 * 2 ** -level, 0.05)).toBeCloseTo(Math.log2(2000), 12);
  });

  it("never falls below the level from which on places are counted", () => {
    expect(levelAllowing((level) => 2 ** -level, 0.5)).toBe(2.5);
  });

  it("goes no further than any noise reaches", () => {
    expect(levelAllowing(() => 7, 3)).toBe(40);
  });
});
