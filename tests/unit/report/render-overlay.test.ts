import { PNG } from "pngjs";
import { beforeAll, describe, expect, it } from "vitest";
import { boardPoint } from "../../../src/core/units.js";
import { type Rgb, RISE_COLOURS, riseColour } from "../../../src/report/colour-scale.js";
import { drawMarks } from "../../../src/report/draw-marks.js";
import { paintRise } from "../../../src/report/paint-rise.js";
import { artefactLetter, pictureMarks } from "../../../src/report/picture-marks.js";
import { pictureLayout, renderOverlay } from "../../../src/report/render-overlay.js";
import { MADE_SPOTS, makeAnalysis } from "./make-analysis.js";

const at = (rgb: Uint8Array, width: number, x: number, y: number): Rgb => {
  const i = (y * width + x) * 3;
  return [rgb[i]!, rgb[i + 1]!, rgb[i + 2]!];
};
const isGrey = ([r, g, b]: Rgb): boolean => Math.max(r, g, b) - Math.min(r, g, b) <= 2;

describe("paintRise", () => {
  it("puts the largest rise where the spot is, pixel centres at half pixels", () => {
    // One picture pixel for each frame pixel: the spot of rank 1 peaks at (60.3, 41.8), so pixel (60, 42) is hottest.
    const painted = paintRise(makeAnalysis(), 96, 70);
    expect(at(painted.rgb, 96, 60, 42)).toEqual(RISE_COLOURS[255]);
    expect(painted.riseK!.low).toBeCloseTo(0.26, 2);
    // 6.1 K at the spot itself; the pixel centre lies 0.36 px off, 0.2 % lower for a width of 5.5 px.
    expect(painted.riseK!.high).toBeCloseTo(6.1 * Math.exp(-(0.3 ** 2 + 0.2 ** 2) / (2 * 5.5 ** 2)), 4);
  });

  it("colours exactly what reaches the threshold and leaves the rest grey", () => {
    const analysis = makeAnalysis();
    const painted = paintRise(analysis, 96, 70);
    for (let y = 0, i = 0; y < 70; y++) {
      for (let x = 0; x < 96; x++, i++) {
        const significant = analysis.significance.data[i]! >= 0.26 / 0.05;
        expect(isGrey(at(painted.rgb, 96, x, y)), `pixel ${x}, ${y}`).toBe(!significant);
      }
    }
  });

  it("stays grey when nothing is significant, and when there is only a fall", () => {
    expect(paintRise(makeAnalysis({ spots: [] }), 96, 70).riseK).toBeNull();
    const fall = makeAnalysis({ spots: [{ ...MADE_SPOTS[0]!, peakK: -6.1 }] });
    const painted = paintRise(fall, 96, 70);
    expect(painted.riseK).toBeNull();
    expect(isGrey(at(painted.rgb, 96, 60, 42))).toBe(true);
  });

  it("colours a board that is warm as a whole though nothing stands out, unless the frame falls as far elsewhere", () => {
    const analysis = makeAnalysis({ spots: [] });
    for (let i = 0; i < 96 * 70; i++) analysis.smoothRise.data[i] = i % 96 < 40 ? 1 : 0;
    expect(isGrey(at(paintRise(analysis, 96, 70).rgb, 96, 11, 30))).toBe(false);
    expect(isGrey(at(paintRise(analysis, 96, 70).rgb, 96, 70, 30))).toBe(true);
    for (let i = 0; i < 96 * 70; i++) if (i % 96 >= 40) analysis.smoothRise.data[i] = -0.7;
    expect(paintRise(analysis, 96, 70).riseK).toBeNull();
  });

  it("leaves pixels without a reading white, and their neighbours painted", () => {
    const analysis = makeAnalysis();
    analysis.baseline.data[3 * 96 + 11] = Number.NaN;
    const painted = paintRise(analysis, 96, 70);
    expect(painted.hasNoReading).toBe(true);
    expect(at(painted.rgb, 96, 11, 3)).toEqual([255, 255, 255]);
    expect(at(painted.rgb, 96, 12, 3)).not.toEqual([255, 255, 255]);
    expect(paintRise(makeAnalysis(), 96, 70).hasNoReading).toBe(false);
  });
});

describe("pictureMarks", () => {
  it("leads labels to the parts, in frame pixels", () => {
    const marks = pictureMarks(makeAnalysis());
    expect(marks.labels.map((label) => label.title)).toEqual(["U12", "C31"]);
    expect(marks.labels[0]!.anchor[0]).toBeCloseTo(60.3, 9);
    expect(marks.labels[0]!.anchor[1]).toBeCloseTo(41.8, 9);
    expect(marks.labels[0]!.detail).toBe("87 % · 0.244 W");
  });

  it("draws only the side that the view sees", () => {
    const texts = pictureMarks(makeAnalysis()).shapes.map((shape) => shape.text);
    expect(texts).toContain("J2");
    expect(texts).not.toContain("L4");
  });

  it("labels hotspots where no part can be named", () => {
    const labels = pictureMarks(makeAnalysis({ withBoard: false })).labels;
    expect(labels.map((label) => `${label.title}: ${label.detail}`)).toEqual([
      "hotspot 1: 6.10 K",
      "hotspot 2: 1.70 K",
    ]);
  });

  it("falls back to the number of the suspect where its name can't be drawn", () => {
    const [spot] = MADE_SPOTS;
    expect(pictureMarks(makeAnalysis({ spots: [{ ...spot!, ref: "充電" }] })).labels[0]!.title).toBe(
      "suspect 1",
    );
  });

  it("leaves out the name of a part that it has no strokes for, and draws umlauts", () => {
    const made = makeAnalysis();
    const regions = made.board!.regions.map((region) =>
      region.ref === "J2"
        ? { ...region, ref: "主电源" }
        : region.ref === "SH1"
          ? { ...region, ref: "LÜß" }
          : region,
    );
    const texts = pictureMarks({ ...made, board: { ...made.board!, regions } }).shapes.map(
      ({ text }) => text,
    );
    expect(texts).not.toContain("主电源");
    expect(texts).toContain("LÜß");
  });

  it("leads no label to a place outside the picture", () => {
    const made = makeAnalysis();
    const far = made.board!.regions.map((region) =>
      region.ref === "C31"
        ? { ...region, polygon: region.polygon.map(([x, y]): [number, number] => [x - 40, y]) }
        : region,
    );
    const marks = pictureMarks({ ...made, board: { ...made.board!, regions: far } });
    // Its hotspot is in the picture and stands for it.
    expect(marks.labels.map(({ title }) => title)).toEqual(["U12", "C31"]);
    expect(marks.labels[1]!.anchor[0]).toBeCloseTo(25.4, 9);
  });

  it("counts artefacts in letters", () => {
    expect([0, 25, 26, 27, 701, 702].map(artefactLetter)).toEqual(["a", "z", "aa", "ab", "zz", "aaa"]);
  });
});

describe("drawMarks", () => {
  it("draws an outline of more corners than a call may have arguments", () => {
    const made = makeAnalysis();
    const [first, ...others] = made.board!.regions;
    const polygon = Array.from({ length: 200_000 }, (_, k): [number, number] => [
      30 + 8 * Math.cos((2 * Math.PI * k) / 200_000),
      17 + 5 * Math.sin((2 * Math.PI * k) / 200_000),
    ]);
    const regions = [{ ...first!, polygon }, ...others.map((region) => ({ ...region, polygon }))];
    const analysis = { ...made, board: { ...made.board!, regions } };
    const marks = pictureMarks(analysis);
    expect(marks.labels[0]!.anchor[0]).toBeCloseTo(made.view!.toFrame(boardPoint(30, 17))[0], 9);
    const svg = drawMarks(marks, paintRise(analysis, 96, 70), pictureLayout(96, 70), analysis);
    expect(svg).toMatch(/^<svg .*<\/svg>$/);
  });
});

describe("renderOverlay", () => {
  const analysis = makeAnalysis({ withArtefacts: true });
  let png: Buffer;
  beforeAll(async () => {
    png = Buffer.from(await renderOverlay(analysis));
  });

  it("is a PNG of the layout's size with the rise's colours in the right place", () => {
    const layout = pictureLayout(96, 70);
    const picture = PNG.sync.read(png);
    expect([picture.width, picture.height]).toEqual([layout.width, layout.height]);
    // A point inside the first spot, off the marks: 4 frame pixels left of and 6 above the source.
    const x = Math.round(layout.left + (56.3 + 0.5) * layout.scale);
    const y = Math.round(layout.top + (35.8 + 0.5) * layout.scale);
    const i = (y * picture.width + x) * 4;
    const riseK = 6.1 * Math.exp(-(4 ** 2 + 6 ** 2) / (2 * 5.5 ** 2));
    const wanted = riseColour((riseK - 0.26) / (6.1 - 0.26));
    // Half a picture pixel of place and bilinear values on a curved spot: a few levels.
    for (let c = 0; c < 3; c++) expect(Math.abs(picture.data[i + c]! - wanted[c]!)).toBeLessThanOrEqual(6);
  });

  it("gives the same bytes for the same analysis, and other bytes for another", async () => {
    expect(png.equals(await renderOverlay(analysis))).toBe(true);
    expect(png.equals(await renderOverlay(makeAnalysis({ withArtefacts: false })))).toBe(false);
  });

  it.each([
    ["no hotspot", { spots: [] }],
    ["no board", { withBoard: false }],
    ["a tall frame", { width: 21, height: 170, withBoard: false }],
    ["a frame of one row", { width: 90, height: 1, withBoard: false }],
    ["names that would be markup", { spots: [{ ...MADE_SPOTS[0]!, ref: "<b>&\u202e'\"" }] }],
  ])("draws %s", async (_name, options) => {
    const picture = PNG.sync.read(Buffer.from(await renderOverlay(makeAnalysis(options))));
    expect(picture.width).toBeGreaterThan(400);
  });
});
