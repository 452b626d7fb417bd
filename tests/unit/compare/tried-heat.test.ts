import { describe, expect, it } from "vitest";
import { compareFindings } from "../../../src/compare/compare-findings.js";
import {
  cameOrWent,
  changeSigmas,
  leavesHeat,
  mostTriedW,
  repeatsHeat,
  showsKnownHeat,
} from "../../../src/compare/tried-heat.js";
import type { Findings } from "../../../src/findings/findings-schema.js";
import type { PartFindings } from "../../../src/findings/parts-schema.js";
import { makeFindings } from "./make-findings.js";

const C6 = { ref: "C6", powerW: 0.24 };
const WARM = { ref: "U6", powerW: 0.6 };

/** The same findings, with what the fit gives parts beside what it found; the others get next to nothing. */
function tried(findings: Findings, of: Readonly<Record<string, Partial<PartFindings>>>): Findings {
  const parts = findings.parts!.map((part): PartFindings => {
    const listed = part.powerW !== null;
    const own = listed
      ? { triedW: part.powerW, triedSigmaW: 0.02 * part.powerW!, triedEvidence: 400 }
      : { triedW: 2e-4, triedSigmaW: 3e-4, triedEvidence: 0.4 };
    return { ...part, ...own, ...of[part.ref] };
  });
  return { ...findings, parts };
}

const part = (before: Findings, after: Findings, ref: string) =>
  compareFindings(before, after).parts.find((one) => one.ref === ref);

describe("a part that one attempt lists and the other does not", () => {
  const before = tried(makeFindings({ heat: [C6, WARM] }), {});
  const later = (own: Partial<PartFindings>) => tried(makeFindings({ heat: [WARM] }), { C6: own });

  it("heats in both where the fit would give it as much there", () => {
    const told = part(
      before,
      later({ contrastK: 2.2, triedW: 0.22, triedSigmaW: 0.01, triedEvidence: 170 }),
      "C6",
    )!;
    expect(told).toMatchObject({ change: "persisted", hotspots: [1, null], faceAlone: [false, true] });
    // ln(0.22 ÷ 0.24), and of the steps as much: better known than from the watts of two fits alone (0.2).
    expect(told.logRatio).toBeCloseTo(-0.087, 3);
    expect(told.logSigma).toBeLessThan(0.2);
    expect(told.why).toContain("no hotspot was found for it, but its face or the board around it shows it");
  });

  it("is cooler where the fit would give it a sixth", () => {
    const told = part(
      before,
      later({ contrastK: 0.3, triedW: 0.04, triedSigmaW: 0.004, triedEvidence: 60 }),
      "C6",
    )!;
    expect(told.change).toBe("cooler");
  });

  it("is cooler or unsure, but not gone, by what the fit leaves to it", () => {
    expect(part(before, later({}), "C6")!.change).toBe("gone");
    // Evidence of 12 is needed whatever the watts; with 11 a sixth of the watts is too much to be called gone all the
    // same.
    const weak = (triedEvidence: number, triedW = 0.04) =>
      part(before, later({ contrastK: 0.13, riseK: 1, triedW, triedSigmaW: 0.003, triedEvidence }), "C6")!;
    expect([weak(11).change, weak(13).change]).toEqual(["unsure", "cooler"]);
    // Evidence goes with the square of the heat: 64 of 400 speak for 0.4 of it, so that 0.15² ÷ 0.4 of 0.24 W are
    // asked, 0.0135 W. The plate's state, which each fit finds anew, makes as many watts of one that is still there;
    // copper makes evidence by fewer.
    expect([weak(64, 0.0134).change, weak(64, 0.0136).change]).toEqual(["gone", "cooler"]);
    // More of one than before makes up for nothing: 0.15² of 0.24 W are 0.0054 W.
    expect([weak(900, 0.0053).change, weak(900, 0.0055).change]).toEqual(["gone", "cooler"]);
  });

  it("is cooler by its face as well, where that stands out from the board around it", () => {
    // 2.5 times noise of 0.03 K and unevenness of 0.025 × 2 ÷ 0.4 = 0.125 K are 0.32 K.
    const faint = (contrastK: number, triedEvidence = 6) => {
      const own = { contrastK, riseK: 2, triedW: 0.03, triedSigmaW: 0.003, triedEvidence };
      return part(before, later(own), "C6")!.change;
    };
    // 0.03 of 0.24 W, the root of 6 of 400, and 0.5 of 2.4 K: (0.125 × 0.122 × 0.208)^(1/3) = 0.147; with 0.6 K 0.156.
    // A step that does not stand out counts beside an eighth of the watts from 0.08 of the other one on, 0.192 K;
    // without it that is too much to be called gone, unless it brings no more evidence than cold parts do.
    expect([faint(0.19), faint(0.195), faint(0.6)]).toEqual(["unsure", "cooler", "cooler"]);
    expect(faint(0.6, 5)).toBe("gone");
  });

  it("is gone where its face has lost all of a clear step, whatever the fit would put there", () => {
    const heats = { triedW: 0.1, triedSigmaW: 0.01, triedEvidence: 90 };
    const lost = (contrastK: number) => part(before, later({ ...heats, contrastK }), "C6")!;
    // A twentieth of 2.4 K is 0.12 K.
    expect([lost(0.11).change, lost(0.13).change]).toEqual(["gone", "cooler"]);
  });

  it("is unsure where its name may be the room's mirror", () => {
    const mirror = { ...C6, flags: ["possibleReflection"], probability: 0.79 };
    const first = tried(makeFindings({ heat: [mirror, WARM] }), {});
    const heats = { contrastK: 0.2, triedW: 0.2, triedSigmaW: 0.01, triedEvidence: 170 };
    const told = part(first, later(heats), "C6")!;
    expect(told).toMatchObject({ change: "unsure", faceAlone: [false, false] });
    expect(told.why).toContain("may be the room mirrored in it");
    // From 80 % on it is heat as far as the attempt itself can tell.
    const likely = tried(makeFindings({ heat: [{ ...mirror, probability: 0.81 }, WARM] }), {});
    expect(part(likely, later({ riseK: 0.1 }), "C6")!.change).toBe("gone");
  });

  it("is gone or new by the fit's answer where contrast and the least watts to be found could not tell", () => {
    const blind = (findings: Findings): Findings => ({
      ...findings,
      parts: findings.parts!.map((one) =>
        one.ref === "C6" ? { ...one, limitK: 2.2, contrastSigmaK: 1.5, riseK: 2.6 } : one,
      ),
    });
    const [first, second] = [before, blind(tried(makeFindings({ heat: [WARM], limitW: 0.2 }), {}))];
    // 0.24 W against 0.2 W that would just have been found; but the fit leaves it no more than 0.06 W.
    expect(mostTriedW(second.parts![0]!)).toBeCloseTo(2e-4 + 2 * 0.15 * 0.2, 6);
    expect(part(first, second, "C6")!.change).toBe("gone");
    expect(part(second, first, "C6")!.change).toBe("new");
    // As older findings have it.
    const older = blind(makeFindings({ heat: [WARM], limitW: 0.2 }));
    expect(part(first, older, "C6")!.change).toBe("unsure");
  });

  it("is unsure where a step is left of the size that its heat would make: a neighbour may have taken it", () => {
    // 2.4 K before, and as much power: 0.35 of it is 0.84 K.
    const left = (contrastK: number) => part(before, later({ contrastK, riseK: 3 }), "C6")!;
    expect(left(0.7).change).toBe("gone");
    expect(left(1.1).change).toBe("unsure");
    expect(left(1.1).why).toContain("it may heat more weakly");
    expect(part(before, later({ contrastK: 1.1, riseK: 3, triedW: 0, triedEvidence: 0 }), "C6")!.change).toBe(
      "gone",
    );
  });

  it("out of sight shows nothing, whatever the fit would give it", () => {
    const own = { seen: false, triedW: 0.2, triedSigmaW: 0.01, triedEvidence: 200 };
    expect(part(before, later(own), "C6")).toMatchObject({ change: "unsure", faceAlone: [false, false] });
  });
});

describe("parts that neither attempt lists", () => {
  const heats = { triedW: 0.05, triedSigmaW: 0.004, triedEvidence: 80 };
  const attempt = (of: Readonly<Record<string, Partial<PartFindings>>>) =>
    tried(makeFindings({ heat: [WARM] }), of);

  it("stay untold, though the fit gives them heat in both: what uneven copper makes is the same in both", () => {
    expect(part(attempt({ R4: heats }), attempt({ R4: heats }), "R4")).toBeUndefined();
  });

  it("are told where one attempt brings clear evidence, and the other none", () => {
    // Of 0.01 W that would have been found by themselves; the picture shows too little of the face for a step.
    const clear = { triedW: 0.02, triedSigmaW: 0.001, triedEvidence: 40, contrastGain: 0.2 };
    expect(part(attempt({ R4: clear }), attempt({}), "R4")).toMatchObject({
      change: "gone",
      hotspots: [null, null],
      faceAlone: [true, false],
    });
    const fresh = part(attempt({}), attempt({ R4: clear }), "R4")!;
    expect(fresh.change).toBe("new");
    expect(fresh.why).toMatch(
      /^Neither attempt lists it; the fit gives it heat in the later attempt alone \(/,
    );
    expect(part(attempt({ R4: clear }), attempt({ R4: { triedEvidence: 7 } }), "R4")).toBeUndefined();
    expect(part(attempt({ R4: { ...clear, triedW: 0.0039 } }), attempt({}), "R4")).toBeUndefined();
    expect(part(attempt({ R4: { ...clear, triedEvidence: 19 } }), attempt({}), "R4")).toBeUndefined();
    expect(part(attempt({ R4: { ...clear, contrastGain: 0.3 } }), attempt({}), "R4")).toBeUndefined();
    expect(part(attempt({ R4: { ...clear, shiny: true } }), attempt({}), "R4")).toBeUndefined();
    expect(part(attempt({ R4: { ...clear, mirrored: true } }), attempt({}), "R4")).toBeUndefined();
    expect(part(attempt({ R4: clear }), attempt({ R4: { triedW: 0.011 } }), "R4")).toBeUndefined();
  });

  it("are not told where other heat changed, which changes what the plate's model gets wrong around it", () => {
    const clear = { triedW: 0.02, triedSigmaW: 0.001, triedEvidence: 40, riseK: 0.5, contrastGain: 0.2 };
    const stronger = tried(makeFindings({ heat: [{ ...WARM, powerW: 1.4 }] }), {});
    expect(part(attempt({ R4: clear }), stronger, "R4")).toBeUndefined();
    // Other heat that went, or came, is none of the part's neighbours where the warmth there is the same without it.
    const without = (riseK: number | null) => tried(makeFindings(), { R4: { riseK } });
    const stepped = attempt({ R4: { ...clear, contrastK: 0.5 } });
    expect(part(stepped, without(0.26), "R4")!.change).toBe("gone");
    expect(part(stepped, without(0.24), "R4")).toBeUndefined();
    expect(part(stepped, without(null), "R4")).toBeUndefined();
    expect(part(stepped, without(0), "R4")).toBeUndefined();
    // As warm by chance: what went may have warmed it as what came does.
    expect(part(attempt({ R4: clear }), without(0.26), "R4")).toBeUndefined();
  });

  it("are told by less evidence where the face rose above what its place makes of warmth in the other attempt", () => {
    const place = { riseK: 4, contrastSigmaK: 0.1, contrastGain: 0.2 };
    const rose = (contrastK: number, triedEvidence = 16, triedW = 0.0041) =>
      part(
        attempt({ R4: { ...place, triedW, triedSigmaW: 8e-4, contrastK, triedEvidence } }),
        attempt({ R4: { ...place, contrastK: -0.5, triedW: 0, triedEvidence: 0 } }),
        "R4",
      );
    // Noise of 0.1 K in both, unevenness of 0.015 × 4 ÷ 0.2 = 0.3 K: two sigma are 0.66 K above −0.5 K.
    expect(rose(0.1)).toBeUndefined();
    expect(rose(0.5)).toMatchObject({ change: "gone", hotspots: [null, null] });
    expect(rose(0.5)!.z).toBeCloseTo(-1 / Math.hypot(0.1, 0.1, 0.3), 6);
    expect(rose(0.5, 14)).toBeUndefined();
    // 0.4 of the 0.01 W that would have been found by themselves: a frame's noise makes such steps here and there.
    expect(rose(0.5, 16, 0.0039)).toBeUndefined();
  });

  it("are not told for a step of the face to which the fit gives no heat", () => {
    const step = { contrastK: 2, riseK: 3, triedW: 0.0051 };
    const fits = (triedEvidence: number) =>
      part(attempt({ R4: { ...step, triedEvidence } }), attempt({ R4: { ...step, triedEvidence } }), "R4");
    expect(fits(2)).toBeUndefined();
    expect(fits(30)).toBeDefined();
    // Half of the 0.01 W that would have been found is asked: cold faces beside strong heat get less.
    const less = attempt({ R4: { ...step, triedW: 0.0049, triedEvidence: 30 } });
    expect(part(less, less, "R4")).toBeUndefined();
  });
});

describe("a hotspot that may be another part's, or none", () => {
  it("gains nothing by what the other attempt would give the part: uneven copper is the same in both", () => {
    const doubtful = makeFindings({ heat: [{ ...C6, probability: 0.4, contrastK: 0.1 }, WARM] });
    const own = { triedW: 0.2, triedSigmaW: 0.01, triedEvidence: 80 };
    const later = tried(makeFindings({ heat: [WARM] }), { C6: own });
    expect(part(tried(doubtful, {}), later, "C6")).toBeUndefined();
  });
});

describe("bounds of what the fit gives", () => {
  const one = tried(makeFindings(), {}).parts![0]!;

  it("are in evidence", () => {
    const with12 = { ...one, triedW: 0.1, triedEvidence: 12 };
    expect(showsKnownHeat(with12, null)).toBe(true);
    expect(showsKnownHeat({ ...with12, triedEvidence: 11.9 }, null)).toBe(false);
    expect(showsKnownHeat({ ...with12, triedW: 0 }, null)).toBe(false);
  });

  it("are sigmas by the share of cold parts that bring as much evidence, or by the step", () => {
    const heats = { ...one, triedW: 0.02, triedEvidence: 50 };
    // e^(−0.9·√50) = 0.00172: 2.925 sigma (normal table: 0.0017 at 2.93).
    expect(changeSigmas(heats, { ...one, riseK: 0 })).toBeCloseTo(2.925, 2);
    const place = { riseK: 4, contrastSigmaK: 0.1, contrastGain: 0.2 };
    const rose = { ...heats, ...place, contrastK: 2 };
    expect(changeSigmas(rose, { ...one, ...place, contrastK: 0 })).toBeCloseTo(
      2 / Math.hypot(0.1, 0.1, 0.3),
      9,
    );
  });

  it("a tenth of the heat by watts and by evidence may be left, less is gone", () => {
    const shown = { ...one, triedW: 0.1, triedEvidence: 900, powerW: 0.1, riseK: 2 };
    const left = (triedW: number, triedEvidence: number, riseK = 1) =>
      leavesHeat({ ...one, triedW, triedEvidence, riseK, riseSigmaK: 0.02 }, shown, 1);
    expect([left(0.0101, 9.1), left(0.0099, 9.1), left(0.0101, 8.9)]).toEqual([true, false, false]);
    // With half the power half of it is as much.
    const half = { ...one, triedW: 0.0051, triedEvidence: 6.1, riseK: 1 };
    expect(leavesHeat(half, shown, 0.5)).toBe(true);
    // Cold parts bring less than 6 of evidence; of heat that was not listed itself nobody knows better.
    expect(leavesHeat({ ...half, triedEvidence: 5.9 }, shown, 0.5)).toBe(false);
    expect(leavesHeat({ ...half, triedEvidence: 5.9 }, { ...shown, powerW: null }, 0.5)).toBe(true);
    // 0.02 of 0.1 W would make 0.4 K by themselves: a place with 0.35 ± 0.02 K has no room for them.
    expect([left(0.02, 30, 0.37), left(0.02, 30, 0.35)]).toEqual([true, false]);
  });

  it("came or went by evidence alone only where no other heat did, else by a step that the face shows", () => {
    const small = { contrastGain: 0.1, contrastSigmaK: 0.16, riseK: 0.2, limitW: 0.0033 };
    const came = { ...one, ...small, triedW: 0.0028, triedSigmaW: 5e-4, triedEvidence: 26, contrastK: 0.1 };
    const none = { ...one, ...small, triedW: 0, triedEvidence: 0, contrastSigmaK: 0.05, contrastK: 0 };
    const both = (part: PartFindings, other: PartFindings) =>
      [false, true].map((moved) => cameOrWent(part, other, moved));
    expect(both(came, none)).toEqual([true, false]);
    // A hollow that is filled is no step: 0.1 K of 0.16 K of noise, though 2.3 sigma above what was there.
    expect(both({ ...came, triedEvidence: 18 }, { ...none, contrastK: -0.3 })).toEqual([true, false]);
    expect(both({ ...came, contrastK: 0.5 }, none)).toEqual([true, true]);
  });

  it("are not known of older findings", () => {
    const { triedW: _, triedSigmaW: __, triedEvidence: ___, ...older } = one;
    expect([mostTriedW(older), showsKnownHeat(older, null)]).toEqual([null, false]);
    const clear = { ...one, triedW: 0.02, triedSigmaW: 0.001, triedEvidence: 40, contrastGain: 0.2 };
    expect([cameOrWent(clear, one, false), cameOrWent(clear, older, false)]).toEqual([true, false]);
    expect(leavesHeat(older, clear, 1)).toBe(false);
  });
});

describe("a part that neither attempt lists, though each nearly would", () => {
  const plain = makeFindings().parts!.find(({ ref }) => ref === "R4")!;
  // Noise of 0.05 K and unevenness of 0.025 × 2 ÷ 0.25 = 0.2 K: a step of 1.5 sigma is 0.31 K.
  const face = { riseK: 2, contrastSigmaK: 0.05, contrastGain: 0.25, contrastK: 0.6, limitW: 0.04 };
  const once = (own: Partial<PartFindings> = {}): PartFindings => ({
    ...plain,
    ...face,
    triedW: 0.024,
    triedSigmaW: 0.004,
    triedEvidence: 12,
    ...own,
  });

  it("heats in both where watts, evidence and step come to enough twice, and grew alike", () => {
    expect(repeatsHeat(once(), once())).toBe(true);
    expect(repeatsHeat(once(), once({ triedW: 0.048, contrastK: 1.1 }))).toBe(true);
    const short = [{ triedW: 0.0199 }, { triedEvidence: 9.9 }, { contrastK: 0.3 }];
    expect(short.map((own) => repeatsHeat(once(), once(own)))).toEqual([false, false, false]);
    // Twice the watts with the same step: ln 2 is more than 0.4.
    expect(repeatsHeat(once(), once({ triedW: 0.048 }))).toBe(false);
  });

  it("does not, where either attempt does not see it, or it mirrors", () => {
    const hidden = [{ seen: false }, { shiny: true }, { mirrored: true as const }, { triedW: null }];
    expect(hidden.map((own) => repeatsHeat(once(own), once()))).toEqual([false, false, false, false]);
  });

  it("is not left any heat by evidence that noise makes", () => {
    const shown = once({ triedEvidence: 18, triedW: 0.0046, powerW: null });
    const left = (triedEvidence: number) =>
      once({ triedEvidence, triedW: 0.0006, contrastK: 0.05, riseK: 1 });
    expect([leavesHeat(left(2.2), shown, 1), leavesHeat(left(2.3), shown, 1)]).toEqual([false, true]);
  });
});
