import { describe, expect, it } from "vitest";
import type { BoardMap } from "../../../src/board/board-schema.js";
import { createRaster } from "../../../src/core/raster.js";
import { type BoardRise, boardRise } from "../../../src/report/board-rise.js";
import { contourRings } from "../../../src/report/contour-rings.js";
import {
  PLOT_COLOURS,
  type Plot,
  type PlotItem,
  type PlotPath,
  type PlotText,
} from "../../../src/report/plot.js";
import { riseLegend, riseScale } from "../../../src/report/rise-bands.js";
import { boardFrame, drawSmallBoard, type SmallBoard } from "../../../src/report/small-board.js";
import { makeAnalysis } from "./make-analysis.js";

const texts = ({ items }: Plot): PlotText[] => items.filter((item): item is PlotText => item.kind === "text");
const paths = (items: readonly PlotItem[]): PlotPath[] =>
  items.flatMap((item) => (item.kind === "clip" ? paths(item.items) : item.kind === "path" ? [item] : []));

describe("boardRise", () => {
  it("lays the rise over the board in millimetres, whichever way the camera looked", () => {
    const analysis = makeAnalysis();
    const { originMm, pitchMm, width, height, data, peakRiseK, side } = boardRise(
      analysis,
      analysis.board!,
      0.26,
    )!;
    expect([originMm, side]).toEqual([[0, 0], "top"]);
    // 58 mm are 160 points, 34 mm then 94 and the last one beyond the edge.
    expect([width, height]).toEqual([160, 95]);
    let at = 0;
    data.forEach((value, i) => {
      if (value > data[at]!) at = i;
    });
    // The spot at 60.3, 41.8 px: (60.3 − 4) ÷ 1.5 = 37.5 mm, (41.8 − 7) ÷ 1.5 = 23.2 mm.
    expect((at % width) * pitchMm).toBeCloseTo(37.5, 0);
    expect(Math.floor(at / width) * pitchMm).toBeCloseTo(23.2, 0);
    expect(peakRiseK).toBeCloseTo(6.1, 1);
  });

  it("has no value where the frame does not see the board, and nothing at all without a view", () => {
    const analysis = makeAnalysis({ width: 40 });
    const { data, width, pitchMm } = boardRise(analysis, analysis.board!, 0.26)!;
    // The frame ends at pixel 39: (39 − 4) ÷ 1.5 = 23.3 mm.
    const last = data.subarray(0, width).findLastIndex((value) => !Number.isNaN(value));
    expect(last * pitchMm).toBeCloseTo(23.3, 0);
    expect(boardRise({ ...analysis, view: null }, analysis.board!, 0.26)).toBeNull();
  });

  it("counts from the threshold, three times the falls, or 4 % of the peak", () => {
    const analysis = makeAnalysis();
    const least = (thresholdK: number, shiftK = 0): number => {
      const { width, height, data } = analysis.smoothRise;
      const smoothRise = createRaster(
        "K",
        width,
        height,
        data.map((value) => value + shiftK),
      );
      return boardRise({ ...analysis, smoothRise }, analysis.board!, thresholdK)!.leastRiseK;
    };
    expect(least(0.26)).toBeCloseTo(0.26, 9);
    expect(least(0.1)).toBeCloseTo(0.04 * 6.1, 2);
    // Most of the board lies at the shift: falls of 0.2 K.
    expect(least(0.1, -0.2)).toBeGreaterThan(0.5);
  });
});

describe("contourRings", () => {
  const field = (width: number, values: readonly number[]) => ({
    width,
    height: values.length / width,
    data: Float32Array.from(values),
  });

  it("goes half way between a point inside and points outside", () => {
    const [ring, ...others] = contourRings(field(3, [0, 0, 0, 0, 2, 0, 0, 0, 0]), 1);
    expect(others).toEqual([]);
    expect(new Set(ring!.map(String))).toEqual(new Set(["1,0.5", "1.5,1", "1,1.5", "0.5,1"]));
  });

  it("closes at the edge and beside missing values, through the last point that has a value", () => {
    const [ring] = contourRings(field(2, [3, Number.NaN, 3, Number.NaN]), 1);
    expect(new Set(ring!.map(String))).toEqual(new Set(["0,0", "0,1"]));
  });

  it("parts a saddle by its middle", () => {
    const saddle = (middle: number) => contourRings(field(2, [2, middle, middle, 2]), 1);
    expect(saddle(0.9)).toHaveLength(1);
    expect(saddle(-0.9)).toHaveLength(2);
  });

  it("makes a hole a ring of its own", () => {
    const values = Array.from({ length: 49 }, (_, i) => {
      const far = Math.max(Math.abs((i % 7) - 3), Math.abs(Math.floor(i / 7) - 3));
      return far === 2 ? 1 : 0;
    });
    expect(contourRings(field(7, values), 0.5)).toHaveLength(2);
  });
});

describe("riseScale", () => {
  const rise = (peakRiseK: number, leastRiseK: number): BoardRise => ({
    side: "top",
    originMm: [0, 0],
    pitchMm: 1,
    width: 1,
    height: 1,
    data: new Float32Array(1),
    leastRiseK,
    peakRiseK,
  });

  it("is one for all attempts: from what the most sensitive shows to the largest rise of all", () => {
    const scale = riseScale([rise(6.1, 0.3), rise(2, 0.5)])!;
    expect(scale.topK).toBe(6.1);
    expect(scale.bands.map(({ fromK }) => fromK)).toEqual([0.3, 1, 2, 3, 4, 5, 6]);
    expect(new Set(scale.bands.map(({ colour }) => colour)).size).toBe(7);
  });

  it("is null where nothing rose enough", () => {
    expect(riseScale([rise(0.2, 0.3)])).toBeNull();
    expect(riseScale([])).toBeNull();
  });

  it("has a number at every band of its legend", () => {
    const legend = riseLegend(riseScale([rise(6.1, 0.3)])!, 300, "rise, K");
    expect(texts(legend).map(({ text }) => text)).toEqual(["rise, K", "0", "1", "2", "3", "4", "5", "6.1"]);
  });

  it("ends in plain figures above a hundred kelvin", () => {
    const legend = riseLegend(riseScale([rise(123.4, 3)])!, 300, "rise, K");
    expect(texts(legend).at(-1)!.text).toBe("123");
    expect(legend.description).toBe("Scale of the rise from 0 to 123 K");
  });
});

describe("drawSmallBoard", () => {
  const analysis = makeAnalysis();
  const board = analysis.board!;
  const small: SmallBoard = {
    board,
    side: "top",
    rise: boardRise(analysis, board, 0.26),
    suspects: ["U12"],
    changed: ["C31"],
    warm: ["J2"],
    sources: [{ rank: 1, atMm: [37.5, 23.2] }],
    noHeat: [{ atMm: [50, 30], radiusMm: 2 }],
    description: "made up",
  };
  const scale = riseScale([small.rise!])!;

  it("draws all boards in one size and scale, the largest one filling the width", () => {
    const half: BoardMap = {
      ...board,
      outline: board.outline.map(([x, y]): [number, number] => [x / 2, y / 2]),
    };
    const frame = boardFrame([half, board], 163);
    expect(frame.ptPerMm).toBeCloseTo((163 - 10) / 58, 6);
    const large = drawSmallBoard(small, scale, frame);
    const little = drawSmallBoard({ ...small, board: half, rise: null }, scale, frame);
    expect([little.width, little.height]).toEqual([large.width, large.height]);
  });

  it("names suspects and changed parts bold, warm ones plain; parts of the other side are not drawn", () => {
    const plot = drawSmallBoard(small, scale, boardFrame([board], 163));
    const name = (ref: string): PlotText => texts(plot).find(({ text }) => text === ref)!;
    expect([name("U12").bold, name("C31").bold, name("J2").bold]).toEqual([true, true, false]);
    expect(name("L4")).toBeUndefined();
  });

  it("names a suspect on the other side, whose heat comes through the board, within a thin outline", () => {
    const plot = drawSmallBoard(
      { ...small, suspects: ["U12", "L4"], changed: ["C31"] },
      scale,
      boardFrame([board], 163),
    );
    expect(texts(plot).map(({ text }) => text)).toContain("L4 (behind)");
    const marked = paths(plot.items).filter(({ stroke }) => stroke === PLOT_COLOURS.mark);
    expect(marked.map(({ width }) => width)).toEqual([1.6, 0.6]);
    // What was only changed there shows nothing here.
    const changed = drawSmallBoard({ ...small, changed: ["L4"] }, scale, boardFrame([board], 163));
    expect(texts(changed).some(({ text }) => text.startsWith("L4"))).toBe(false);
  });

  it("draws the cross of a source dark on light, since colours run from light to dark", () => {
    const plot = drawSmallBoard(small, scale, boardFrame([board], 163));
    const crosses = paths(plot.items).filter(({ closed, rings }) => !closed && rings.length === 2);
    expect(crosses.map(({ stroke }) => stroke)).toEqual([PLOT_COLOURS.ground, PLOT_COLOURS.ink]);
    expect(crosses[0]!.width!).toBeGreaterThan(2 * crosses[1]!.width!);
  });

  it("fills bands within the outline, each colour where the rise reaches it", () => {
    const plot = drawSmallBoard(small, scale, boardFrame([board], 163));
    const clip = plot.items.find((item) => item.kind === "clip");
    const fills = paths(clip?.kind === "clip" ? clip.items : []).map(({ fill }) => fill);
    expect(fills).toEqual(scale.bands.map(({ colour }) => colour));
  });

  it("leaves out bands that lie below what the attempt itself can tell from noise", () => {
    const unsure = { ...small.rise!, leastRiseK: 2.5 };
    const plot = drawSmallBoard({ ...small, rise: unsure }, scale, boardFrame([board], 163));
    const clip = plot.items.find((item) => item.kind === "clip");
    const fills = paths(clip?.kind === "clip" ? clip.items : []).map(({ fill }) => fill);
    expect(fills).toEqual(scale.bands.filter(({ fromK }) => fromK >= 2).map(({ colour }) => colour));
  });

  it("is the same picture from either side: a bottom view is drawn as seen from the top", () => {
    const frame = boardFrame([board], 163);
    const rings = (side: "top" | "bottom") =>
      drawSmallBoard({ ...small, side, rise: { ...small.rise!, side } }, scale, frame).items.find(
        (item) => item.kind === "clip",
      );
    expect(rings("bottom")).toEqual(rings("top"));
  });
});
