// What findings advise about a change on no part of the map, of this version and of older ones.
import { describe, expect, it } from "vitest";
import { unmappedAdvice } from "../../../src/evidence/unmapped-advice.js";

const DRAW =
  "Look what lies at 40.3, 13.6 mm on the top side, add it to the board map and analyse again: what changed most (6.7 K) lies where the map names nothing, and was taken for something mirrored.";
const TURN =
  "Capture the bottom side too: what changed most (6.7 K), at 40.3, 13.6 mm, lies on no part of the top side but over C14, and was taken for something mirrored.";

describe("unmappedAdvice", () => {
  it("takes the field, and of findings without it the end of their advice", () => {
    const lift = "Before lifting C7, read its power pins.";
    expect(unmappedAdvice({ nextStep: `${lift} ${DRAW}`, nextStepUnmapped: DRAW })).toBe(DRAW);
    for (const advice of [DRAW, TURN]) {
      expect(unmappedAdvice({ nextStep: `${lift} ${advice}` })).toBe(advice);
      expect(unmappedAdvice({ nextStep: advice })).toBe(advice);
    }
  });

  it("makes none of other advice", () => {
    const others = [
      "Before lifting C7, read its power pins.",
      "Capture the bottom side too: heat shows through.",
      null,
    ];
    expect(others.map((nextStep) => unmappedAdvice({ nextStep }))).toEqual([null, null, null]);
  });
});
