import { describe, expect, it } from "vitest";
import { mirroredShare, shareOfRoom } from "../../../src/sources/mirrored-share.js";

describe("mirroredShare", () => {
  it("of a finish that throws back more than 15 %, what it throws back", () => {
    expect(mirroredShare(0.1)).toBeCloseTo(0.9, 12);
    expect(mirroredShare(0.84)).toBeCloseTo(0.16, 12);
  });

  it("of a dull one, what it differs by from the mask beside it: the same for all", () => {
    expect([0.86, 0.91, 0.97].map(mirroredShare)).toEqual([0.07, 0.07, 0.07]);
  });

  it("grows as the emissivity falls", () => {
    const shares = [0.97, 0.85, 0.7, 0.5, 0.2].map(mirroredShare);
    expect([...shares].sort((a, b) => a - b)).toEqual(shares);
  });
});

describe("shareOfRoom", () => {
  it("a face that is a mirror rather than not shows 85 %, whatever the map says of it; else its finish decides", () => {
    for (const emissivity of [0.1, 0.6, 0.93]) {
      expect(shareOfRoom({ shinyChance: 0.51, emissivity })).toBe(0.85);
      expect(shareOfRoom({ shinyChance: 0.5, emissivity })).toBe(mirroredShare(emissivity));
      expect(shareOfRoom({ shinyChance: 0, emissivity })).toBe(mirroredShare(emissivity));
    }
  });
});
