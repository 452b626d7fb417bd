import { mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import type { PlacedView } from "../../../src/board/place-view.js";
import { stylesFor } from "../../../src/cli/command-output.js";
import { printFindings } from "../../../src/cli/print-findings.js";
import { boardPoint, framePoint } from "../../../src/core/units.js";
import type { Analysis } from "../../../src/findings/analysis.js";
import { pictureMarks } from "../../../src/report/picture-marks.js";
import { renderOverlay } from "../../../src/report/render-overlay.js";
import { renderReport } from "../../../src/report/render-report.js";
import { seenFrom } from "../../../src/report/seen-from.js";
import { writeReportFiles } from "../../../src/report/write-report-files.js";
import { makeAnalysis } from "./make-analysis.js";
import { plainBlanks } from "./plain-blanks.js";

/** Below, x runs the other way round and the scale is another one: x′ = 80 − 1.25·x, y′ = 1.25·y + 4. */
const BELOW: PlacedView = {
  side: "bottom",
  model: "similarity",
  matrix: [-1.25, 0, 80, 0, 1.25, 4, 0, 0, 1],
  toFrame: (point) => framePoint(80 - 1.25 * point[0], 1.25 * point[1] + 4),
  toBoard: (point) => boardPoint((80 - point[0]) / 1.25, (point[1] - 4) / 1.25),
  mmPerPxAt: () => 0.8,
  residualPx: 0,
  covarianceAt: () => ({ xx: 0, xy: 0, yy: 0 }),
};

/** The made-up analysis with a second view: hotspot 1 is seen in both, hotspot 2 in the second view alone. */
function makeBoth(): Analysis {
  const first = makeAnalysis({ withArtefacts: true });
  const second = makeAnalysis({ width: 88, height: 60 });
  const { findings } = first;
  const there = { peakRiseK: 2.4, peakPx: [33, 33], sourcePx: [33.1, 33.2] } as const;
  const [a, b] = findings.hotspots;
  return {
    ...first,
    other: { ...second, view: BELOW },
    findings: {
      ...findings,
      hotspots: [
        {
          ...a!,
          view: "primary",
          sideOdds: { top: 0.92, bottom: 0.04 },
          otherView: {
            ...there,
            peakPx: [...there.peakPx],
            sourcePx: [...there.sourcePx],
            sourceSigmaPx: 0.4,
            widthPx: 8,
            significance: 30,
          },
        },
        {
          ...b!,
          view: "other",
          peakPx: [62, 15],
          sourcePx: [62.2, 14.8],
          sideOdds: { top: 0.0001, bottom: 0.9 },
          otherView: null,
        },
      ],
      artefacts: findings.artefacts.map((artefact, i) => ({
        ...artefact,
        view: i === 0 ? ("primary" as const) : ("other" as const),
      })),
      otherSide: {
        primarySide: "top",
        side: "bottom",
        inputs: {
          baseline: [{ file: "below-off.csv", sha256: "c".repeat(64), width: 88, height: 60 }],
          powered: [{ file: "below-on.csv", sha256: "d".repeat(64), width: 88, height: 60 }],
          view: "below.json",
          rateHz: null,
        },
        alignment: { dxPx: 3.21, dyPx: 0.4, rotationDeg: 0.3, uncertaintyPx: 0.04, trusted: true },
        noise: { sigmaK: 0.31, testedSigmaK: 0.12 },
        threshold: { riseK: 0.57 },
        cycle: null,
      },
    },
  };
}

describe("seenFrom", () => {
  const both = makeBoth();

  it("one view alone: the analysis itself, and no other to be had", () => {
    const alone = makeAnalysis();
    expect(seenFrom(alone, "primary")).toBe(alone);
    expect(() => seenFrom(alone, "other")).toThrow(/no other view/);
  });

  it("the other view has its pictures, noise, threshold and pixels", () => {
    const { baseline, view, findings } = seenFrom(both, "other");
    expect([baseline.width, baseline.height, view!.side]).toEqual([88, 60, "bottom"]);
    expect([findings.threshold.riseK, findings.noise.testedSigmaK]).toEqual([0.57, 0.12]);
    expect(findings.hotspots.map(({ sourcePx }) => sourcePx)).toEqual([
      [33.1, 33.2],
      [62.2, 14.8],
    ]);
    expect(findings.hotspots[0]!.peakRiseK).toBe(2.4);
  });

  it("a hotspot without a peak in a view is drawn where its source lies on the board", () => {
    const spot = seenFrom(both, "primary").findings.hotspots[1]!;
    // makeAnalysis lays hotspot 2 at (25.4, 20.2) px of the first view.
    expect(spot.sourcePx[0]).toBeCloseTo(25.4, 9);
    expect(spot.sourcePx[1]).toBeCloseTo(20.2, 9);
  });

  it("… and not at all where that is beyond the picture", () => {
    const { findings } = both;
    const far = {
      ...both,
      findings: { ...findings, hotspots: [{ ...findings.hotspots[1]!, sourceMm: [900, 3] }] },
    };
    expect(seenFrom(far as Analysis, "primary").findings.hotspots).toEqual([]);
  });
});

describe("both views in the report", () => {
  const both = makeBoth();

  it("marks of a view: parts of its side, artefacts of its own with the letters of the whole list", () => {
    const top = pictureMarks(seenFrom(both, "primary"), "primary");
    const bottom = pictureMarks(seenFrom(both, "other"), "other");
    expect(top.artefacts.map(({ letter, kind }) => [letter, kind])).toEqual([["a", "reflection"]]);
    expect(bottom.artefacts.map(({ letter, kind }) => [letter, kind])).toEqual([["b", "pixel"]]);
    expect(top.shapes.map(({ text }) => text)).toContain("J2");
    expect(bottom.shapes.map(({ text }) => text)).toContain("L4");
    expect(bottom.shapes.map(({ text }) => text)).not.toContain("J2");
    // The label of a part on the top leads to its hotspot below.
    expect(bottom.labels.find(({ title }) => title === "U12")!.anchor).toEqual([33.1, 33.2]);
  });

  it("the second picture has the proportions of its own frame, and differs from the first", async () => {
    const [first, second] = await Promise.all([renderOverlay(both), renderOverlay(both, "other")]);
    // 800 px wide either way: 800·70/96 and 800·60/88 px high, and 132 px around.
    const sizes = await Promise.all([first, second].map((png) => sharp(png).metadata()));
    expect(sizes.map(({ height }) => height)).toEqual([583 + 132, 545 + 132]);
  });

  it("names the view of everything, and gives the side with its odds", () => {
    const html = plainBlanks(
      renderReport(both, new Uint8Array([1]), { otherOverlayPng: new Uint8Array([2]) }),
    );
    expect(html.match(/<img /g)).toHaveLength(2);
    expect(html).toContain("The bottom view, in the same way: seen from the bottom side.");
    // 0.92 ÷ 0.04 and 0.9 ÷ 0.0001.
    expect(html).toContain("top 23 : 1");
    expect(html).toContain("bottom &gt; 1000 : 1");
    expect(html).toContain("top view; 2.40 ± 0.12 K in the bottom view");
    expect(html).toContain("bottom view; no peak in the top view");
    expect(html).toContain("Bottom view: The powered frame had moved 3.21");
    expect(html).toContain("below-on.csv");
    const alone = renderReport(makeAnalysis({ withArtefacts: true }), new Uint8Array([1]));
    expect(alone).not.toMatch(/Seen in|<th[^>]*>View|(first|top) view/);
    expect(alone.match(/<img /g)).toHaveLength(1);
  });

  it("an alignment of the second view that can't be trusted stands at the top", () => {
    const { findings } = both;
    const otherSide = findings.otherSide!;
    const weak = { ...otherSide, alignment: { ...otherSide.alignment, trusted: false } };
    const html = renderReport({ ...both, findings: { ...findings, otherSide: weak } }, new Uint8Array([1]));
    expect(html.slice(0, html.indexOf("<figure"))).toContain(
      "Bottom view: The powered frame could not be aligned",
    );
  });

  it("prints a column of sides and the view of what is no heat", () => {
    const text = printFindings(both.findings, stylesFor(false));
    expect(text).toMatch(/Heat +Side +Rise/);
    expect(text).toMatch(/U12 +87 % .* top 23 : 1 +6\.10 ± 0\.05 K/);
    // The second hotspot's noise is that of the second view.
    expect(text).toMatch(/C31 +6 % .* bottom > 1000 : 1 +1\.70 ± 0\.12 K/);
    expect(text).toContain("reflection in the top view at 80, 50 px, 1.90 K");
    expect(printFindings(makeAnalysis().findings, stylesFor(false))).not.toContain("Side");
  });

  it("two views of one side are the first and the second", () => {
    const { findings } = both;
    const otherSide = { ...findings.otherSide!, side: "top" as const };
    const text = printFindings({ ...findings, otherSide }, stylesFor(false));
    expect(text).toContain("reflection in the first view at");
    expect(text).toContain("faulty pixel in the second view at");
  });

  it("writes the second picture beside the first", async () => {
    const folder = await mkdtemp(join(tmpdir(), "faultglow-"));
    try {
      const files = await writeReportFiles(both, folder);
      expect(files.otherOverlay).toBe(join(folder, "overlay-other.png"));
      expect((await readdir(folder)).sort()).toEqual([
        "findings.json",
        "overlay-other.png",
        "overlay.png",
        "report.html",
      ]);
      expect((await readFile(files.report, "utf8")).match(/<img /g)).toHaveLength(2);
      expect((await writeReportFiles(makeAnalysis(), join(folder, "alone"))).otherOverlay).toBeNull();
      expect(await readdir(join(folder, "alone"))).not.toContain("overlay-other.png");
    } finally {
      await rm(folder, { recursive: true });
    }
  });
});
