import { describe, expect, it } from "vitest";
import { type AlternativeEvidence, explainAlternative } from "../../../src/suspects/explain-alternative.js";

describe("explainAlternative", () => {
  const OTHER: AlternativeEvidence = {
    bestRef: "U7",
    odds: 14.2,
    distanceMm: 1.31,
    sigmaMm: 0.11,
    farSide: false,
    sharedNet: null,
  };
  const tell = (change: Partial<AlternativeEvidence>) => explainAlternative({ ...OTHER, ...change });

  it("what it could explain, and how much less likely it is", () => {
    for (const line of tell({})) expect(line).toMatch(/^\S.*\.$/);
    expect(tell({})[0]).toBe("It could make the heat that U7 explains best, but is 14 times less likely.");
    expect(tell({ odds: 1.1 })[0]).toContain("about as well");
    expect(tell({ odds: 1e7 })[0]).toContain("far less likely");
    expect(tell({ bestRef: null })[0]).toContain("a place that the map does not name");
  });

  it("better than what was taken first: not called less likely", () => {
    expect(tell({ odds: 0.2 })[0]).toContain("explains better than U7");
    expect(tell({ odds: 0.2 })[0]).toContain("5.0 to 1");
    expect(tell({ odds: 1e-9 })[0]).toContain("by far");
  });

  it("a centre outside it speaks against, one on it does not, nor one that may be", () => {
    expect(tell({})[1]).toBe(
      "Against: the centre of the heat lies 1.3 mm from this part's edge (± 0.11 mm).",
    );
    expect(tell({ distanceMm: 0 })[1]).toMatch(/^The centre of the heat lies on this part/);
    expect(tell({ distanceMm: 0.2 })[1]).toMatch(/^The centre/);
    expect(tell({ distanceMm: null })).toHaveLength(1);
  });

  it("the other side, and nets it shares", () => {
    expect(tell({ farSide: true }).at(-1)).toContain("through the board");
    expect(tell({ sharedNet: { ref: "U7", net: "V3" } }).at(-1)).toContain("net V3 with U7");
  });
});
