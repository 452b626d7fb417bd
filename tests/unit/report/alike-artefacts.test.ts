import { describe, expect, it } from "vitest";
import { stylesFor } from "../../../src/cli/command-output.js";
import { printFindings } from "../../../src/cli/print-findings.js";
import { alikeArtefacts } from "../../../src/report/alike-artefacts.js";
import { artefactsSection } from "../../../src/report/report-sections.js";
import { makeAnalysis } from "./make-analysis.js";

/** A reflection, a faulty pixel, then so many reflections more for the same reason as the first. */
function analysisWith(more: number) {
  const analysis = makeAnalysis({ withArtefacts: true });
  const [first] = analysis.findings.artefacts;
  for (let k = 1; k <= more; k++)
    analysis.findings.artefacts.push({ ...first!, px: [80 + 3 * k, 50 - k], riseK: 1.9 - 0.1 * k });
  return analysis;
}

describe("alikeArtefacts", () => {
  it("puts together what is alike in kind, reason and view, and keeps letters and order", () => {
    const { findings } = analysisWith(2);
    const groups = alikeArtefacts(findings);
    expect(groups.map(({ what, places }) => [what, places.map(({ letter }) => letter)])).toEqual([
      ["reflection", ["a", "c", "d"]],
      ["faulty pixel", ["b"]],
    ]);
    findings.artefacts[2]!.reason = "another";
    findings.artefacts[3]!.kind = "edge";
    expect(alikeArtefacts(findings)).toHaveLength(4);
  });

  it("the terminal tells a reason once, with six places at most", () => {
    const lines = (more: number) =>
      printFindings(analysisWith(more).findings, stylesFor(false))
        .split("\n")
        .filter((line) => line.includes("the spot moved with the camera"));
    expect(lines(1)).toEqual([
      "  reflection at 80, 50 px, 1.90 K; 83, 49 px, 1.80 K: the spot moved with the camera",
    ]);
    expect(lines(8)).toHaveLength(1);
    expect(lines(8)[0]).toMatch(/; 95, 45 px, 1\.40 K; and 3 more: the spot/);
  });

  it("places of reasons that are not listed are counted", () => {
    const { findings } = analysisWith(7);
    findings.artefacts.slice(2).forEach((one, i) => {
      one.reason = `reason ${i}`;
    });
    // Nine places of nine reasons, five of which are told.
    expect(printFindings(findings, stylesFor(false))).toContain("\n  and 4 more\n");
  });

  it("the report has a row for each ring, and points to the first with the same reason", () => {
    const html = artefactsSection(analysisWith(2));
    expect(html.match(/the spot moved with the camera/g)).toHaveLength(1);
    expect(html.match(/as a</g)).toHaveLength(2);
    expect(html.match(/<tr>/g)).toHaveLength(5);
  });
});
