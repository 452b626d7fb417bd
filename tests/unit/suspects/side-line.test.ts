import { describe, expect, it } from "vitest";
import { explainAlternative } from "../../../src/suspects/explain-alternative.js";
import { explainSuspect } from "../../../src/suspects/explain-suspect.js";
import { type SideEvidence, sideLine } from "../../../src/suspects/side-line.js";
import { PLAIN } from "./plain-evidence.js";

const sight = (side: "top" | "bottom", peakRiseK: number | null, widthMm: number | null) => ({
  side,
  peakRiseK,
  widthMm,
});
const EVIDENCE: SideEvidence = {
  side: "top",
  sights: [sight("top", 3.1, 1.5), sight("bottom", 1.2, 3.45)],
  odds: { top: 0.8, bottom: 0.02 },
};

describe("sideLine", () => {
  it("how both views show it, and the side by its odds: 0.8 ÷ 0.02 = 40, 3.45 ÷ 1.5 = 2.3", () => {
    const line =
      "The top view shows it 3.1 K, the bottom view 1.2 K and 2.3 times wider: its side is the top, by odds of 40 to 1.";
    expect(sideLine(EVIDENCE)).toBe(line);
    // The order of the views does not matter: the hotter one comes first.
    expect(sideLine({ ...EVIDENCE, sights: [EVIDENCE.sights[1], EVIDENCE.sights[0]] })).toBe(line);
  });

  it("for a part on the other side the same speaks against it", () => {
    expect(sideLine({ ...EVIDENCE, side: "bottom" })).toMatch(/^Against: the top view shows it 3\.1 K, /);
  });

  it("odds near 1 settle nothing; a shiny face may be the colder and narrower one on its own side", () => {
    expect(sideLine({ ...EVIDENCE, odds: { top: 0.5, bottom: 0.4 } })).toMatch(
      /: that does not settle its side\.$/,
    );
    const shiny = [sight("top", 0.4, 1.5), sight("bottom", 1.2, 3)] as const;
    expect(sideLine({ ...EVIDENCE, sights: shiny })).toBe(
      "The bottom view shows it 1.2 K, the top view 0.40 K and 2.0 times narrower: its side is the top, by odds of 40 to 1.",
    );
  });

  it("no peak in one view, or in neither; a width that can't be told, or is alike, is not told", () => {
    const one = [sight("top", 3.1, 1.5), sight("bottom", null, null)] as const;
    expect(sideLine({ ...EVIDENCE, sights: one })).toContain(
      "3.1 K, the bottom view no peak of it: its side",
    );
    const none = [sight("top", null, null), sight("bottom", null, null)] as const;
    expect(sideLine({ ...EVIDENCE, sights: none })).toMatch(/^Neither view shows a peak of its own: /);
    for (const widthMm of [null, 1.6]) {
      const alike = [sight("top", 3.1, 1.5), sight("bottom", 1.2, widthMm)] as const;
      expect(sideLine({ ...EVIDENCE, sights: alike })).toContain("the bottom view 1.2 K: its side");
    }
  });

  it("odds beyond number are said in words", () => {
    expect(sideLine({ ...EVIDENCE, odds: { top: 0.9, bottom: 1e-6 } })).toMatch(/the top by far\.$/);
  });
});

describe("the line on the side among the reasons", () => {
  const suspect = { ...PLAIN, powerW: 0.04, powerSigmaW: 0.01, peakRiseK: 3.1 };

  it("stands with what speaks for a part, or with what speaks against it", () => {
    const good = explainSuspect({ ...suspect, sides: EVIDENCE });
    expect(good).toContain(sideLine(EVIDENCE));
    const wrong = explainSuspect({ ...suspect, sides: { ...EVIDENCE, side: "bottom" } });
    const against = wrong.findIndex((line) => line.startsWith("Against"));
    expect(wrong[against]).toContain("the top view shows it");
    expect(wrong.slice(0, against).join(" ")).not.toContain("view");
    expect(explainSuspect(suspect).join(" ")).not.toContain("view");
  });

  it("speaks against a part behind the best one", () => {
    const lines = explainAlternative({
      bestRef: "C1",
      odds: 40,
      distanceMm: 0,
      sigmaMm: 0.1,
      farSide: false,
      sides: { ...EVIDENCE, side: "bottom" },
      sharedNet: null,
    });
    expect(lines.at(-1)).toMatch(/^Against: .* its side is the top/);
  });
});
