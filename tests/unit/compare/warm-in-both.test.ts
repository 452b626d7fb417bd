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
