import { describe, expect, it } from "vitest";
import { stylesFor } from "../../../src/cli/command-output.js";
import { printComparison } from "../../../src/cli/print-comparison.js";
import { compareFindings } from "../../../src/compare/compare-findings.js";
import { renderComparison } from "../../../src/report/render-comparison.js";
import { makeFindings } from "../compare/make-findings.js";
import { plainBlanks } from "./plain-blanks.js";

const BEFORE = makeFindings({ heat: [{ ref: "C6", powerW: 0.24 }] });
const AFTER = makeFindings({ heat: [{ ref: "U6", powerW: 0.08 }], amps: 0.1 });
const comparison = compareFindings(BEFORE, AFTER, {
  actions: [{ what: "replaced", ref: "C6" }],
  beforeFile: "a.json",
  afterFile: "b.json",
});

describe("renderComparison", () => {
  const html = plainBlanks(renderComparison(comparison));

  it("holds verdict, actions, both attempts, every part with its numbers and reason, and the notes", () => {
    for (const words of [
      comparison.verdict,
      "In between: C6 replaced.",
      "Earlier: a.json, top side, 0.740 W fed. Later: b.json, top side, 0.370 W fed.",
      "0.24 → –",
      "– → 0.22",
      comparison.parts[0]!.why,
      "N_POWER_DIVIDED",
    ]) {
      expect(html, words).toContain(words);
    }
  });

  it("escapes every string that came from outside, loads nothing and runs nothing", () => {
    const evil = `"><script>alert('x')</script>`;
    const bad = structuredClone(comparison);
    bad.verdict = evil;
    bad.board = evil;
    bad.before.file = evil;
    bad.parts[0]!.ref = evil;
    bad.parts[0]!.why = evil;
    bad.actions[0]!.ref = evil;
    bad.notes[0]!.text = evil;
    bad.lookAt = [{ ref: evil, side: "top", why: evil }];
    const page = renderComparison(bad);
    expect(page).not.toContain("<script");
    expect(page).toContain("default-src 'none'");
    expect(page).not.toMatch(/\b(?:src|href)="(?!data:)|url\(|@import|<link|\son\w+=/i);
  });

  it("lists hotspots whose part is not known", () => {
    const unnamed = makeFindings({ heat: [{ ref: "C6", powerW: 0.2 }] });
    unnamed.hotspots[0]!.nearest = [];
    const found = compareFindings(unnamed, makeFindings());
    expect(renderComparison(found)).toContain("Hotspots whose part is not known");
    expect(printComparison(found, stylesFor(false))).toContain("earlier no. 1: unsure");
  });
});
