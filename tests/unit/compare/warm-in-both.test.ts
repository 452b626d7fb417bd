import { describe, expect, it } from "vitest";
import { compareFindings } from "../../../src/compare/compare-findings.js";
import type { Findings } from "../../../src/findings/findings-schema.js";
import type { PartFindings } from "../../../src/findings/parts-schema.js";
import { makeFindings } from "./make-findings.js";

const WARM = { ref: "U6", powerW: 0.6 };
const heats = { triedW: 0.05, triedSigmaW: 0.004, triedEvidence: 80 };

/** U6 heats, and U1 gets so much by the fit without being listed. */
function attempt(own: Partial<PartFindings>): Findings {
  const findings = makeFindings({ heat: [WARM], amps: null });
  const parts = findings.parts!.map((part): PartFindings => {
    const listed = {
      triedW: part.powerW ?? 2e-4,
      triedSigmaW: 3e-4,
      triedEvidence: part.powerW === null ? 0.4 : 400,
    };
    return { ...part, ...listed, ...(part.ref === "U1" ? own : {}) };
  });
  return { ...findings, parts };
}

describe("normally warm parts that neither attempt lists", () => {
  it("heat in both where both bring evidence: how strongly, and with what power, neither measures", () => {
    const comparison = compareFindings(attempt(heats), attempt(heats));
    const told = comparison.parts.find(({ ref }) => ref === "U1")!;
    expect(told).toMatchObject({
      change: "persisted",
      hotspots: [null, null],
      faceAlone: [true, true],
      z: null,
    });
    expect(told.why).toContain("by how much it differs can't be measured");
    expect(comparison.division.by).toBe("none");
  });

  it("heat in both by a quarter of those watts where both faces stand out by five sigma", () => {
    // The rise is 0.3 K and a third of a step shows: noise of 0.02 K and unevenness of 0.025 × 0.3 ÷ 0.3 = 0.025 K are
    // 0.032 K.
    const face = { riseK: 0.3, contrastSigmaK: 0.02, contrastGain: 0.3, triedEvidence: 8 };
    const change = (triedW: number, contrastK: number) =>
      compareFindings(
        attempt({ ...face, triedW: 0.0026, contrastK: 0.165 }),
        attempt({ ...face, triedW, contrastK }),
      ).parts.find(({ ref }) => ref === "U1")?.change;
    expect(change(0.0026, 0.165)).toBe("persisted");
    expect([change(0.0024, 0.165), change(0.0026, 0.155)]).toEqual([undefined, undefined]);
  });

  it("heat in both as well where one attempt lists it and may have seen the room in it", () => {
    const mirror = { ref: "U1", powerW: 0.05, flags: ["possibleReflection"], probability: 0.6 };
    const seen = makeFindings({ heat: [WARM, mirror], amps: null });
    const parts = seen.parts!.map((part) => (part.ref === "U1" ? { ...part, ...heats } : part));
    const change = (other: Partial<PartFindings>) =>
      compareFindings({ ...seen, parts }, attempt({ ...heats, ...other })).parts.find(
        ({ ref }) => ref === "U1",
      )!;
    expect(change({}).change).toBe("persisted");
    expect(change({ triedW: 0.002 }).change).toBe("unsure");
  });

  it("is gone where the other attempt, in which it ran, shows it a hundred times as strong", () => {
    const seen = makeFindings({ heat: [WARM, { ref: "U1", powerW: 0.2 }], amps: null });
    const ran = { triedW: 0.2, triedSigmaW: 0.01, triedEvidence: 220, riseK: 8, contrastK: 6 };
    const parts = seen.parts!.map((part) => (part.ref === "U1" ? { ...part, ...ran } : part));
    const left = { triedSigmaW: 2e-4, triedEvidence: 20, riseK: 0.2, contrastK: 0 };
    const change = (triedW: number, own: Partial<PartFindings> = {}) =>
      compareFindings({ ...seen, parts }, attempt({ ...left, triedW, ...own })).parts.find(
        ({ ref }) => ref === "U1",
      )!.change;
    // 0.6 of the 0.01 W that would have been found, and 0.03 of the 0.2 W: √(0.03 × √(20 ÷ 220)) = 0.095 is less than
    // 0.15.
    expect(change(0.006)).toBe("gone");
    // √(0.2 × √(100 ÷ 220)) = 0.37.
    expect(change(0.04, { triedEvidence: 100, riseK: 1.6, contrastK: 1.2 })).not.toBe("gone");
  });

  it("are not told by less evidence or watts than cold ones bring, nor of faces that mirror or are out of sight", () => {
    const change = (first: Partial<PartFindings>, second: Partial<PartFindings> = {}) =>
      compareFindings(attempt({ ...heats, ...first }), attempt({ ...heats, ...second })).parts.find(
        ({ ref }) => ref === "U1",
      )?.change;
    // Evidence of 15 in both together …
    const brings = (a: number, b: number) => change({ triedEvidence: a }, { triedEvidence: b });
    expect([brings(11, 4), brings(11, 3.9)]).toEqual(["persisted", undefined]);
    // … and of the 0.01 W that would have been found 0.6, and no less than 0.3 in either: √(0.31 × 1.2) = 0.61.
    const gives = (a: number, b: number) => change({ triedW: a }, { triedW: b });
    expect([gives(0.0061, 0.006), gives(0.0061, 0.0058)]).toEqual(["persisted", undefined]);
    expect([gives(0.0031, 0.012), gives(0.0029, 0.05)]).toEqual(["persisted", undefined]);
    const hidden = [change({ shiny: true }), change({ mirrored: true }), change({ seen: false })];
    expect(hidden).toEqual([undefined, undefined, undefined]);
  });
});
