import { describe, expect, it } from "vitest";
import { parseFindings } from "../../../src/findings/parse-findings.js";
import { makeFindings } from "../compare/make-findings.js";

const findings = JSON.parse(JSON.stringify(makeFindings({ heat: [{ ref: "C6", powerW: 0.1 }] })));

describe("parseFindings", () => {
  it("takes findings as they were written", () => {
    expect(parseFindings(findings, "a.json")).toEqual({ findings, notes: [] });
  });

  it("names keys that it does not know", () => {
    const { notes } = parseFindings({ ...findings, hotpsots: [] }, "a.json");
    expect(notes.map(({ code }) => code)).toEqual(["N_UNKNOWN_KEY"]);
    expect(notes[0]!.text).toContain("hotspots");
  });

  it("refuses other kinds of files, newer versions and wrong values", () => {
    expect(() => parseFindings({ kind: "faultglow/view", version: 1 }, "a.json")).toThrow(
      /E_FINDINGS_KIND.*a\.json/,
    );
    expect(() => parseFindings({ ...findings, version: 2 }, "a.json")).toThrow(/E_FINDINGS_KIND.*version 2/);
    const wrong = structuredClone(findings);
    wrong.hotspots[0].sourceMm = [1];
    expect(() => parseFindings(wrong, "a.json")).toThrow(/E_FINDINGS_VALUE.*hotspots\[0\]\.sourceMm/);
  });
});
