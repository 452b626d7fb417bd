import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { analyse } from "../../../src/findings/analyse.js";
import type { AnalysisInput, OtherSide } from "../../../src/findings/analyse-options.js";
import { findHotspots } from "../../../src/findings/find-hotspots.js";
import { type Frame, frameFromRaster } from "../../../src/frames/frame.js";
import { expectContract } from "./expect-contract.js";
import { VIEW } from "./make-attempt.js";
import {
  BOTTOM_PART,
  makeTwoSides,
  type SideInput,
  TOP_PART,
  TWO_SIDED,
  VIEW_BELOW,
} from "./make-two-sides.js";

/** Centre of C1 and of C9, board mm, and where the views have it: x′ = 2.7·x + 9.3, the other way round below. */
const CENTRE_MM = [30.8, 5.45] as const;
const CENTRE_PX = { top: 2.7 * 30.8 + 9.3, bottom: 127 - (2.7 * 30.8 + 9.3) } as const;
const CENTRE_Y_PX = 2.7 * 5.45 + 14.8;

const together = (first: SideInput, second: SideInput, more: Partial<AnalysisInput> = {}) =>
  analyse({ ...first, board: TWO_SIDED, otherSide: second, ...more });

describe("both sides in one fit", () => {
  it.each([
    ["top", "top", TOP_PART],
    ["top", "bottom", TOP_PART],
    ["bottom", "top", BOTTOM_PART],
    ["bottom", "bottom", BOTTOM_PART],
  ] as const)("heat on the %s, %s view first: %s, not the part right behind it", (side, first, ref) => {
    const { top, bottom } = makeTwoSides(side, 0.04, `${side} heat`);
    const { findings } = first === "top" ? together(top, bottom) : together(bottom, top);
    expectContract(findings);
    expect(findings.hotspots).toHaveLength(1);
    const [suspect] = findings.suspects;
    expect(suspect).toMatchObject({ ref, side, hotspot: 1 });
    expect(suspect!.probability).toBeGreaterThan(0.8);
    const { sideOdds } = findings.hotspots[0]!;
    // Both parts are in the same place: the odds of the side are those of the two parts.
    expect(sideOdds![side] / sideOdds![side === "top" ? "bottom" : "top"]).toBeGreaterThan(10);
    expect(sideOdds!.top + sideOdds!.bottom).toBeLessThanOrEqual(1 + 1e-5);
    expect(suspect!.why.join(" ")).toMatch(
      new RegExp(`^.*The ${side} view shows it .* its side is the ${side}(, by odds of .* to 1| by far)\\.`),
    );
  });

  it("one hotspot for both views, in the first view's pixels, with the peak that the second shows", () => {
    const { top, bottom } = makeTwoSides("top", 0.04, "one hotspot");
    const analysis = together(top, bottom);
    const [spot] = analysis.findings.hotspots;
    expect(spot!.view).toBe("primary");
    // The board's edge, 5 mm away, pushes the hill on the plate by up to some tenths of a pixel; the part is 4 px wide.
    expect(Math.hypot(spot!.sourcePx[0] - CENTRE_PX.top, spot!.sourcePx[1] - CENTRE_Y_PX)).toBeLessThan(1);
    const there = spot!.otherView!.sourcePx;
    expect(Math.hypot(there[0] - CENTRE_PX.bottom, there[1] - CENTRE_Y_PX)).toBeLessThan(1);
    expect(spot!.peakRiseK).toBeGreaterThan(spot!.otherView!.peakRiseK);
    const { other } = analysis;
    expect([other!.baseline.width, other!.baseline.height]).toEqual([128, 91]);
    const peak = spot!.otherView!.peakPx;
    expect(other!.hotspotRanks[peak[1] * 128 + peak[0]]).toBe(1);
    expect(analysis.hotspotRanks[spot!.peakPx[1] * 128 + spot!.peakPx[0]]).toBe(1);
  });

  it("its place on the board is the mean of both views', no farther off than it says", () => {
    const { top, bottom } = makeTwoSides("top", 0.04, "place");
    const [both] = together(top, bottom).findings.hotspots;
    const [x, y] = both!.sourceMm!;
    const alone = [top, bottom].map((one) => findHotspots({ ...one, board: TWO_SIDED }).hotspots[0]!);
    const sigma = both!.sourceSigmaMm!;
    const weights = alone.map(({ sourceSigmaMm }) => sourceSigmaMm! ** -2);
    // Two estimates by the same data differ by what the worse one wastes: their difference has the difference of their
    // variances (Hausman, Econometrica 46 (1978) 1251, from memory). One that wastes a ninth lies within 3·σ·√(1/9) =
    // σ.
    for (const [c, at] of [x, y].entries()) {
      const sum = alone.reduce((all, { sourceMm }, i) => all + weights[i]! * sourceMm![c]!, 0);
      expect(Math.abs(at - sum / (weights[0]! + weights[1]!))).toBeLessThan(sigma);
    }
    // … and surer than either, or that bound could be met by saying little.
    for (const { sourceSigmaMm } of alone) expect(sigma).toBeLessThan(sourceSigmaMm!);
    // Each view was clicked by itself: of two equal errors the mean has √½, and of unequal ones less than the larger.
    const clicks = alone.map(({ viewSigmaMm }) => viewSigmaMm!);
    expect(Math.min(...clicks)).toBeGreaterThan(0.01);
    expect(both!.viewSigmaMm!).toBeLessThan(0.9 * Math.max(...clicks));
    expect(both!.viewSigmaMm!).toBeGreaterThan(0.5 * Math.min(...clicks));
    expect(Math.hypot(x - CENTRE_MM[0], y - CENTRE_MM[1])).toBeLessThan(4 * both!.sourceSigmaMm!);
  });

  it("what the first view's noise hides is a hotspot of the second view, in its pixels", () => {
    const { top, bottom } = makeTwoSides("bottom", 0.03, "hidden", { top: { noiseK: 1.5 } });
    const { findings } = together(top, bottom);
    expectContract(findings);
    const [spot] = findings.hotspots;
    expect(spot).toMatchObject({ view: "other", otherView: null });
    expect(Math.abs(spot!.sourcePx[0] - CENTRE_PX.bottom)).toBeLessThan(1);
    expect(Math.abs(spot!.sourceMm![0] - CENTRE_MM[0])).toBeLessThan(0.5);
    expect(findings.suspects[0]).toMatchObject({ ref: BOTTOM_PART, side: "bottom" });
    expect(findings.suspects[0]!.why.join(" ")).toContain("the top view no peak of it");
    // The noise of each view is its own.
    expect(findings.noise.sigmaK).toBeGreaterThan(5 * findings.otherSide!.noise.sigmaK);
  });

  it("what is no heat is told with the view that shows it", () => {
    const { top, bottom } = makeTwoSides("top", 0.04, "hand");
    const hand = (frame: Frame): Frame => {
      const { width, height, data } = frame.raster;
      const warm = data.map((v, i) => {
        const away = ((i % width) - 3) ** 2 + (Math.floor(i / width) - 5) ** 2;
        return v + 6 * Math.exp(-away / 18);
      });
      return frameFromRaster(createRaster("degC", width, height, warm));
    };
    const { findings } = together(top, { ...bottom, powered: bottom.powered.map(hand) });
    const outside = findings.artefacts.filter(({ kind }) => kind === "outside");
    expect(outside.map(({ view }) => view)).toContain("other");
    const [x, y] = outside.find(({ view }) => view === "other")!.px;
    expect(Math.hypot(x - 3, y - 5)).toBeLessThan(4);
    expect(outside.filter(({ view }) => view === "primary")).toEqual([]);
  });

  it("says how the second pair was brought together, and which files it was", () => {
    const { top, bottom } = makeTwoSides("top", 0.04, "block", { bottom: { nudgePx: [2, -1] } });
    const named = bottom.powered.map((frame) => ({ ...frame, file: "below.csv", sha256: "ab" }));
    const { findings } = together(top, { ...bottom, powered: named, viewFile: "below.json" } as OtherSide);
    const { otherSide, alignment } = findings;
    expect(otherSide).toMatchObject({ primarySide: "top", side: "bottom", cycle: null });
    expect(otherSide!.inputs).toMatchObject({ view: "below.json", rateHz: null });
    expect(otherSide!.inputs.powered.map(({ file, sha256 }) => [file, sha256])).toEqual(
      named.map(() => ["below.csv", "ab"]),
    );
    // Mirrored: a nudge to the right is one to the left.
    expect(Math.abs(otherSide!.alignment.dxPx + 2)).toBeLessThan(0.2);
    expect(Math.abs(otherSide!.alignment.dyPx + 1)).toBeLessThan(0.2);
    expect(Math.hypot(alignment.dxPx, alignment.dyPx)).toBeLessThan(0.2);
  });

  it("both sides seen: no advice to capture the other one, and no heat hidden there in the books", () => {
    const { top, bottom } = makeTwoSides("top", 0, "quiet");
    // Little more than what would have been found in half of the parts: a part behind may well take it unseen.
    const amps = 1.4 * findHotspots({ ...top, board: TWO_SIDED }).threshold.powerW!;
    const both = together(top, bottom, { volts: 1, amps }).findings;
    const alone = findHotspots({ ...top, board: TWO_SIDED, volts: 1, amps });
    expectContract(both);
    expect(both.hotspots).toEqual([]);
    expect(both.nextStep).not.toMatch(/Capture the (top|bottom|other) side/);
    expect(alone.energy!.meaning).toContain("on the bottom side");
    expect(both.energy!.meaning).not.toContain("on the bottom side");
    // No more is missed than by one side alone, as well as the scale of a residual is known (some percent).
    expect(both.threshold.powerW!).toBeLessThan(1.05 * alone.threshold.powerW!);
  });

  it("two views of one side may be joined as well; they say nothing of sides", () => {
    const { top } = makeTwoSides("top", 0.05, "same side");
    const again = makeTwoSides("top", 0.05, "same side again").top;
    const { findings } = together(top, again);
    expectContract(findings);
    expect(findings.suspects[0]!.ref).toBe(TOP_PART);
    const [spot] = findings.hotspots;
    expect(spot!.sideOdds).toBeNull();
    expect(spot!.otherView).not.toBeNull();
    // The same heat with noise of its own in each view: its place from both is surer than from either.
    for (const one of [top, again]) {
      const [alone] = findHotspots({ ...one, board: TWO_SIDED }).hotspots;
      expect(spot!.sourceSigmaMm!).toBeLessThan(alone!.sourceSigmaMm!);
    }
    expect(findings.otherSide).toMatchObject({ primarySide: "top", side: "top" });
  });

  it("one view alone has none of this", () => {
    const { top } = makeTwoSides("top", 0.04, "alone");
    const analysis = analyse({ ...top, board: TWO_SIDED });
    expect(analysis.other).toBeNull();
    expect(analysis.findings.otherSide).toBeNull();
    expect(Object.keys(analysis.findings.hotspots[0]!)).not.toContain("view");
  });
});

describe("a second view that can't be used", () => {
  const { top, bottom } = makeTwoSides("top", 0, "errors");
  const { view: _, ...unplaced } = top;
  const smaller = frameFromRaster(
    createRaster(
      "degC",
      40,
      30,
      new Float32Array(1200).map((_v, i) => 20 + (i % 7)),
    ),
  );

  it.each([
    ["without a board map", { ...top, otherSide: bottom }, "board map"],
    [
      "without the first view",
      { ...unplaced, board: TWO_SIDED, otherSide: bottom },
      "view of the first frames",
    ],
    [
      "without its own view",
      { ...top, board: TWO_SIDED, otherSide: { ...bottom, view: undefined as unknown as typeof VIEW } },
      "view of its own",
    ],
  ])("%s: E_OTHER_VIEW", (_name, input: AnalysisInput, missing) => {
    expect(() => analyse(input)).toThrow(new RegExp(`^E_OTHER_VIEW: .*without a ${missing}`));
  });

  it.each([
    ["no powered frame", { ...bottom, powered: [] }, "E_FRAME_NONE: .* powered frame of the other view"],
    [
      "frames of two sizes",
      { ...bottom, powered: [smaller] },
      "E_FRAME_SIZE: the first baseline frame of the other view is 128×91 but a powered frame is 40×30",
    ],
    ["a view of another frame", { ...bottom, view: VIEW }, "E_VIEW_FRAME: .*128×96.*128×91.*other view"],
    [
      "a view whose fiducials show the top",
      { ...bottom, view: { ...VIEW_BELOW, fiducials: VIEW.fiducials } },
      "E_VIEW_SIDE",
    ],
  ])("%s", (_name, otherSide, message) => {
    expect(() => together(top, otherSide)).toThrow(new RegExp(`^${message}`));
  });
});
