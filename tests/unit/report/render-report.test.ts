import { describe, expect, it } from "vitest";
import { AID_STATEMENT, CAUTIONS } from "../../../src/report/cautions.js";
import { escapeHtml } from "../../../src/report/escape-html.js";
import { renderReport } from "../../../src/report/render-report.js";
import { MADE_SPOTS, makeAnalysis } from "./make-analysis.js";
import { plainBlanks } from "./plain-blanks.js";

const PNG_BYTES = Uint8Array.of(1, 2, 3);
const render = (...options: Parameters<typeof makeAnalysis>): string =>
  renderReport(makeAnalysis(...options), PNG_BYTES);

describe("renderReport", () => {
  it("holds verdict, next step, suspects, hotspots, hashes, options, notes and cautions", () => {
    const html = plainBlanks(render({ withArtefacts: true, withEnergy: true }));
    for (const words of [
      "U12 is the most likely source of heat.",
      "Measure the resistance across the first suspect",
      "0.244 ± 0.030 W",
      "6.10 ± 0.05 K",
      "37.53, 23.20 ± 0.11 mm",
      "the source lies inside U12",
      "heat and a reflection can&#39;t be told apart here",
      "a".repeat(64),
      "falseAlarmsPerFrame",
      "N_NOTHING_HOT",
      "the spot moved with the camera",
      "0.42 px to the right and 1.31 px up",
      "about once in 100 frames",
      "faultglow 0.0.1",
    ]) {
      expect(html, words).toContain(words);
    }
    for (const caution of [...CAUTIONS, AID_STATEMENT]) expect(html).toContain(escapeHtml(caution));
  });

  it("balances the energy: 1.2 V × 0.35 A against 0.244 and 0.068 W", () => {
    // 0.312 of 0.420 W = 74.3 %; ± 0.03 and 0.03 W, which err together, give 0.06 W, 14.3 %.
    const html = plainBlanks(render({ withEnergy: true }));
    expect(html).toContain("0.420 W were fed in");
    expect(html).toContain(
      "amount to 0.31 ± 0.06 W, which is 74 ± 14 % of it; the heat told of each part is held against what was fed in, too. Missing: 0.11 ± 0.06 W.",
    );
    expect(html).toContain("the whole board gives off 0.39 ± 0.08 W");
    expect(html).toContain("Fed and seen agree, as this made-up text says.");
    expect(render({ withEnergy: true, withBoard: false })).toContain("no balance can be drawn");
    expect(render()).not.toContain("were fed in");
  });

  it("escapes every string that came from outside", () => {
    const evil = `"><script>alert('x')</script>\u202e`;
    const spots = [{ ...MADE_SPOTS[0]!, ref: evil }];
    const html = render({ spots, file: evil, verdict: evil });
    expect(html).not.toContain("<script");
    expect(html).not.toContain("\u202e");
    expect(html).toContain("&quot;&gt;&lt;script&gt;");
  });

  it("loads nothing and runs nothing", () => {
    const html = render({ withArtefacts: true });
    expect(html).toContain("default-src 'none'");
    expect(html).not.toMatch(/\b(?:src|href)="(?!data:)/);
    expect(html).not.toMatch(/url\(|@import|<link|<iframe|\son\w+=/i);
  });

  it("gives the same text for the same analysis, without a date, and a subtitle when asked", () => {
    expect(render()).toBe(render());
    expect(render()).not.toContain(`${new Date().getFullYear()}-`);
    const analysis = makeAnalysis();
    expect(renderReport(analysis, PNG_BYTES, { subtitle: "Job <7>" })).toContain("Job &lt;7&gt;");
  });

  it("shows the picture at its own size where a tick asks for it, on a narrow screen alone and without a script", () => {
    const html = render({});
    expect(html).toMatch(
      /<figure><label class="larger"><input type="checkbox">[^<]+<\/label><div class="scroll"/,
    );
    expect(html).toContain(".larger { display: none; }");
    const narrow = /@media screen and \(max-width: 44rem\) \{\s*\.larger [\s\S]*?\n\}/.exec(html)?.[0] ?? "";
    expect(narrow).toContain(".larger:has(:checked) + .scroll img { width: auto; max-width: none; }");
  });

  it("opens and closes every element", () => {
    for (const options of [
      {},
      { spots: [] },
      { withBoard: false },
      { withArtefacts: true, withEnergy: true },
    ]) {
      const open: string[] = [];
      const body = render(options)
        .replace(/<style>[\s\S]*?<\/style>/, "")
        .replace("<!DOCTYPE html>", "");
      for (const [, close, name] of body.matchAll(/<(\/?)([a-z][a-z0-9]*)[^>]*>/g)) {
        if (name === "meta" || name === "img" || name === "input") continue;
        if (close === "") open.push(name!);
        else expect(open.pop()).toBe(name);
      }
      expect(open).toEqual([]);
    }
  });

  it("gives the picture words and the tables headers for those who do not see them", () => {
    const html = render();
    expect(html).toMatch(/<img [^>]*alt="Baseline frame in grey[^"]*2 hotspots, first suspects: U12, C31/);
    expect(html).toContain('<html lang="en">');
    for (const [, row] of html.matchAll(/<tbody>([\s\S]*?)<\/tbody>/g))
      expect(row).toContain('<th scope="row"');
    expect(html.match(/<thead>/g)!.length).toBe(html.match(/<table aria-label="[^"]+">/g)!.length);
  });

  it("says that nothing was found where nothing was", () => {
    const html = render({ spots: [] });
    expect(html).toContain("<h2>Hotspots</h2><p>None.</p>");
    expect(html).not.toContain("<h2>Suspects</h2>");
  });

  it("says that the board stood still where it did", () => {
    const analysis = makeAnalysis();
    Object.assign(analysis.findings.alignment, { dxPx: 0.03, dyPx: -0.04, rotationDeg: 0.004 });
    expect(plainBlanks(renderReport(analysis, PNG_BYTES))).toContain(
      "The board had not moved between the frames (± 0.05 px).",
    );
    analysis.findings.alignment.rotationDeg = 0.03;
    expect(renderReport(analysis, PNG_BYTES)).toContain("turned 0.030° clockwise");
  });

  it("warns where the alignment is not to be trusted", () => {
    const analysis = makeAnalysis();
    analysis.findings.alignment.trusted = false;
    expect(renderReport(analysis, PNG_BYTES)).toContain(
      "could not be aligned to the baseline with confidence",
    );
  });
});
