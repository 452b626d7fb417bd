import { describe, expect, it } from "vitest";
import { explainBeside } from "../../../src/suspects/explain-beside.js";

const ONE = { ref: "U4", powerW: 0.0252, powerSigmaW: 0.006, evidence: 11.7, mirrorChance: 0.02 };

describe("explainBeside", () => {
  it("says what the frames gain by it, and what makes the same", () => {
    const [gains, copper, ...more] = explainBeside(ONE);
    expect(gains).toBe(
      "Beside U4 the frames fit better with 25 ± 6 mW in this part as well (χ² by 12; a part by itself needs 25).",
    );
    expect(copper).toMatch(/^Against: .*the heat of U4 unevenly/);
    expect(more).toEqual([]);
  });

  it("says nothing of what is needed where there is enough of it", () => {
    expect(explainBeside({ ...ONE, evidence: 107 })[0]).toMatch(/in this part as well \(χ² by 107\)\.$/);
  });

  it("… and that its face may mirror the room, with the chance of that", () => {
    expect(explainBeside({ ...ONE, mirrorChance: 0.7 })[2]).toMatch(
      /^Against: a reflection.*\(70 % by its face/,
    );
  });
});
