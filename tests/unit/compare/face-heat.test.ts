import { describe, expect, it } from "vitest";
import { faceShowsHeat } from "../../../src/compare/face-heat.js";
import type { PartFindings } from "../../../src/findings/parts-schema.js";

const WARM: PartFindings = {
  ref: "U2",
  side: "top",
  normallyWarm: false,
  boundsMm: [0, 0, 4, 3],
  seen: true,
  shiny: false,
  hotspot: null,
  powerW: null,
  powerSigmaW: null,
  powerNoiseW: null,
  riseK: 1.6,
  riseSigmaK: 0.04,
  contrastK: 0.8,
  contrastSigmaK: 0.06,
  contrastGain: 0.4,
  limitW: null,
  limitK: 0.3,
};

describe("faceShowsHeat", () => {
  it("takes a step far above noise and unevenness for heat of its own", () => {
    // Unevenness: 2.5 % of 1.6 K, of which the picture shows 0.4: 0.1 K, with the noise 0.117 K, so that 0.8 K is 6.9
    // sigma.
    expect(faceShowsHeat(WARM, false)).toBe(true);
    expect(faceShowsHeat({ ...WARM, riseK: 4.5 }, false)).toBe(false);
    expect(faceShowsHeat({ ...WARM, contrastSigmaK: 0.25 }, false)).toBe(false);
  });

  it("asks less of a part that the other attempt names", () => {
    const small = { ...WARM, contrastGain: 0.2, riseK: 0.1 };
    expect([faceShowsHeat(small, true), faceShowsHeat(small, false)]).toEqual([true, false]);
    expect(faceShowsHeat({ ...WARM, riseK: 4.5 }, true)).toBe(false);
  });

  it("asks the fit for half of the watts that would just have been found, unless the other attempt names the part", () => {
    const fits = (triedW: number) => ({
      ...WARM,
      limitW: 0.02,
      triedW,
      triedSigmaW: 0.001,
      triedEvidence: 30,
    });
    expect([faceShowsHeat(fits(0.0101), false), faceShowsHeat(fits(0.0099), false)]).toEqual([true, false]);
    expect(faceShowsHeat(fits(0.0099), true)).toBe(true);
  });

  it("does not take what the picture hardly shows, mirrors, or could not have found for heat", () => {
    expect(faceShowsHeat({ ...WARM, shiny: true }, true)).toBe(false);
    expect(faceShowsHeat({ ...WARM, seen: false }, true)).toBe(false);
    // Taken for the room by the fit: heat only if the other attempt names it.
    expect(faceShowsHeat({ ...WARM, mirrored: true }, false)).toBe(false);
    expect(faceShowsHeat({ ...WARM, mirrored: true }, true)).toBe(true);
    expect(faceShowsHeat({ ...WARM, limitK: 0.9 }, true)).toBe(false);
    expect(faceShowsHeat({ ...WARM, contrastK: null }, true)).toBe(false);
  });
});
