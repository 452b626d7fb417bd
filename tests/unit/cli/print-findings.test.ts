import { describe, expect, it } from "vitest";
import { stylesFor } from "../../../src/cli/command-output.js";
import { printFindings } from "../../../src/cli/print-findings.js";
import { MADE_SPOTS, makeAnalysis } from "../report/make-analysis.js";

const print = (...options: Parameters<typeof makeAnalysis>): string =>
  printFindings(makeAnalysis(...options).findings, stylesFor(false));

describe("printFindings", () => {
  it("starts with the verdict and the next step, then ranks", () => {
    const lines = print().split("\n");
    expect(lines[0]).toBe("U12 is the most likely source of heat.");
    expect(lines[1]).toMatch(/^Next: Measure/);
    expect(lines[4]).toMatch(
      /^ +1 {2}U12 +87 % +0\.244 ± 0\.030 W +6\.10 ± 0\.05 K +37\.53, 23\.20 ± 0\.11 mm$/,
    );
    expect(lines[5]).toMatch(/^ +2 {2}C31 +6 % +68 ± 30 mW +1\.70 ± 0\.05 K .* possibleReflection$/);
    expect(lines[6]).toBe("None of the named parts: 7 %");
    expect(lines[7]).toContain("heat and a reflection can't be told apart");
  });

  it("leaves what is less likely than 1 % and has no watts to the report", () => {
    const { findings } = makeAnalysis();
    findings.suspects.push({ ...findings.suspects[1]!, ref: "R77", probability: 0.004, powerW: null });
    expect(printFindings(findings, stylesFor(false))).not.toContain("R77");
    findings.suspects[2]!.powerW = 0.3;
    expect(printFindings(findings, stylesFor(false))).toContain("R77");
  });

  it("ranks hotspots in pixels without a board", () => {
    expect(print({ withBoard: false })).toMatch(
      / 1 {2}hotspot 1 +6\.10 ± 0\.05 K +60\.30, 41\.80 ± 0\.17 px/,
    );
  });

  it("marks a part that is warm anyway and does not give it a probability", () => {
    const text = print({ spots: [{ ...MADE_SPOTS[0]!, normallyWarm: true }] });
    expect(text).toMatch(/U12 +warm anyway/);
    expect(text).not.toContain("87 %");
  });

  it("prints artefacts, energy and notes", () => {
    const text = print({ withArtefacts: true, withEnergy: true });
    expect(text).toContain("  reflection at 80, 50 px, 1.90 K: the spot moved with the camera");
    expect(text).toContain("0.420 W were fed in");
    expect(text).toContain("Missing: 0.11 ± 0.06 W.");
    expect(text).toContain("  N_NOTHING_HOT: a note");
  });

  it("prints no table where nothing is hot", () => {
    const text = print({ spots: [] });
    expect(text.split("\n")[0]).toBe("Nothing on this board warms by 0.26 K or more.");
    expect(text).not.toContain("No.");
  });

  it("passes no control characters of file or part names on to the terminal", () => {
    const text = print({
      spots: [{ ...MADE_SPOTS[0]!, ref: "U\u001b]0;owned\u0007" }],
      verdict: "see\r\n\u009b2J",
    });
    // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what this looks for.
    expect(text).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/);
    expect(text).toContain("U\\x1b]0;owned\\x07");
  });

  it("colours only when told to", () => {
    const { findings } = makeAnalysis();
    expect(printFindings(findings, stylesFor(true))).toContain("\u001b[1m");
    expect(printFindings(findings, stylesFor(false))).not.toContain("\u001b");
  });
});
