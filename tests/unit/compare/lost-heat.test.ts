import { describe, expect, it } from "vitest";
import { compareFindings } from "../../../src/compare/compare-findings.js";
import { lostEvidenceSigmas } from "../../../src/compare/lost-evidence.js";
import { lostWarmthSigmas } from "../../../src/compare/lost-warmth.js";
import type { Findings } from "../../../src/findings/findings-schema.js";
import type { PartFindings } from "../../../src/findings/parts-schema.js";
import { makeFindings } from "./make-findings.js";

const ONE = makeFindings().parts![0]!;
const tried = (own: Partial<PartFindings>): PartFindings => ({
  ...ONE,
  limitW: 0.01,
  triedW: 0.02,
  triedSigmaW: 0.004,
  triedEvidence: 0,
  ...own,
});

describe("lostEvidenceSigmas", () => {
  const shown = tried({ triedEvidence: 100 });
  const left = (own: Partial<PartFindings>, factor = 1) =>
    lostEvidenceSigmas(shown, tried({ triedW: 0.001, ...own }), factor)!;

  it("holds the root of the evidence against that of the other attempt, with what cold parts bring", () => {
    // 10 of noise 1, scatter 0.5; 1.5 is no more than cold parts bring.
    const sigma = Math.hypot(0.5, 0.1);
    expect(left({ triedEvidence: 9 })).toBeCloseTo(Math.log(10 / 3) / sigma, 9);
    expect(left({ triedEvidence: 0 })).toBeCloseTo(Math.log(10 / 1.5) / sigma, 9);
    expect(left({ triedEvidence: 2.25 })).toBeCloseTo(Math.log(10 / 1.5) / sigma, 9);
    expect(left({ triedEvidence: 121 })).toBe(0);
    // Evidence against heat is none of it.
    expect(left({ triedW: 0, triedEvidence: 9 })).toBeCloseTo(Math.log(10 / 1.5) / sigma, 9);
  });

  it("goes with the power, and with how little the picture would have shown", () => {
    const half = Math.log(5 / 1.5) / Math.hypot(0.5, 0.2);
    expect(left({}, 0.5)).toBeCloseTo(half, 9);
    expect(left({ limitW: 0.02 })).toBeCloseTo(half, 9);
    expect(left({ limitW: 0.001 })).toBeCloseTo(left({}), 9);
    expect(left({}, 0.1)).toBe(0);
  });

  it("says nothing against half of the watts, nor of older findings", () => {
    expect(left({ triedW: 0.01 })).toBe(0);
    expect(left({ triedW: 0.0099 })).toBeGreaterThan(3);
    expect(lostEvidenceSigmas(shown, ONE, 1)).toBeNull();
    expect(lostEvidenceSigmas(ONE, shown, 1)).toBeNull();
    expect(lostEvidenceSigmas(shown, tried({ limitW: null }), 1)).toBeNull();
  });
});

describe("lostWarmthSigmas", () => {
  const shield = { ...ONE, ref: "SH1", shiny: true, powerW: 0.9 };
  const places = (...rises: readonly number[]): PartFindings[] =>
    rises.map((riseK, k) => ({
      ...ONE,
      ref: `P${k}`,
      powerW: k === 0 ? 0.1 : null,
      riseK,
      riseSigmaK: 0.02,
    }));
  const before = [shield, ...places(3, 2, 1.5, 1, 0.5)];

  it("holds the share of the part in the warmth around it against what is left", () => {
    // 0.9 of the watts; places of 0.6 K and more count, of which the median lost least but one.
    const after = [shield, ...places(1, 1, 0.5, 0.2, 0.5)];
    const logs = [3, 2, 3, 5].map((times) => Math.log(0.9 * times));
    expect(lostWarmthSigmas(shield, before, after, 1)).toBeCloseTo((logs[0]! + logs[2]!) / 2 / 0.3, 9);
    expect(lostWarmthSigmas(shield, before, after, 0.5)).toBeCloseTo(Math.log(0.5 * 0.9 * 3) / 0.3, 9);
    expect(lostWarmthSigmas(shield, before, before, 1)).toBe(0);
    // Less than five sigma of noise is none.
    expect(lostWarmthSigmas(shield, before, [shield, ...places(0, 0, 0, 0, 0)], 1)).toBeCloseTo(
      (Math.log(9 * 2) + Math.log(9 * 1.5)) / 2 / 0.3,
      9,
    );
  });

  it("asks dull faces in sight, three at the least, and only for a shiny part that was found", () => {
    const hidden = before.map((part) => (part.ref === "P1" ? { ...part, seen: false } : part));
    const few = hidden.map((part) => (part.ref === "P2" ? { ...part, shiny: true } : part));
    expect(lostWarmthSigmas(shield, hidden, before, 1)).toBe(0);
    expect(lostWarmthSigmas(shield, few, before, 1)).toBeNull();
    expect(lostWarmthSigmas({ ...shield, shiny: false }, before, before, 1)).toBeNull();
    expect(lostWarmthSigmas({ ...shield, powerW: null }, before, before, 1)).toBeNull();
  });
});

describe("heat that one attempt lists", () => {
  const C6 = { ref: "C6", powerW: 0.02 };
  const with6 = (findings: Findings, own: Partial<PartFindings>): Findings => ({
    ...findings,
    parts: findings.parts!.map((part) => (part.ref === "C6" ? { ...part, ...own } : part)),
  });
  const told = (before: Findings, after: Findings) =>
    compareFindings(before, after).parts.find(({ ref }) => ref === "C6")!;

  it("is gone where the other attempt has lost its evidence, and nothing else could tell", () => {
    const blind = { contrastK: 0.3, contrastSigmaK: 0.3, limitK: 2, limitW: 0.02, riseK: 0.5 };
    const before = with6(makeFindings({ heat: [C6] }), {
      ...blind,
      ...tried({ triedEvidence: 60, limitW: 0.02 }),
      ...blind,
    });
    const later = (triedEvidence: number) =>
      with6(makeFindings({}), {
        ...tried({}),
        ...blind,
        ref: "C6",
        triedW: 0.006,
        triedSigmaW: 0.003,
        triedEvidence,
      });
    expect(told(before, later(0)).change).toBe("gone");
    expect(told(before, later(11)).change).toBe("unsure");
  });

  it("beside stronger heat needs no step of a face too small to show one, where its evidence went", () => {
    const U6 = { ref: "U6", powerW: 0.6 };
    const small = (contrastGain: number, triedEvidence = 100) => {
      const own = { contrastK: 0.2, contrastSigmaK: 0.1, contrastGain, riseK: 2, limitW: 0.01, triedW: 0.02 };
      const before = with6(makeFindings({ heat: [C6, U6] }), { ...own, triedSigmaW: 0.002, triedEvidence });
      const cold = { contrastK: 0.1, riseK: 1.8, triedW: 0, triedSigmaW: 0, triedEvidence: 0, contrastGain };
      return told(before, with6(makeFindings({ heat: [U6] }), cold)).change;
    };
    expect([small(0.24), small(0.26), small(0.24, 16)]).toEqual(["gone", "unsure", "unsure"]);
  });
});
