import { describe, expect, it } from "vitest";
import type { View } from "../../../src/board/board-schema.js";
import { CLICK_SIGMA_PX } from "../../../src/board/click-covariance.js";
import { placeView } from "../../../src/board/place-view.js";
import { createRaster } from "../../../src/core/raster.js";
import { framePoint } from "../../../src/core/units.js";
import { findHotspots } from "../../../src/findings/find-hotspots.js";
import type { Findings } from "../../../src/findings/findings-schema.js";
import { frameFromRaster } from "../../../src/frames/frame.js";
import { expectContract } from "./expect-contract.js";
import { type AttemptRecipe, BOARD, makeAttempt, VIEW } from "./make-attempt.js";

const findOnBoard = (recipe: Partial<AttemptRecipe>, board = BOARD): Findings =>
  findHotspots({ ...makeAttempt(recipe), board, view: VIEW });

const sumOfFaults = ({ suspects, unexplained }: Findings): number =>
  suspects.filter((s) => !s.normallyWarm).reduce((sum, s) => sum + s.probability, unexplained!);

describe("findHotspots with a board", () => {
  it("a place on the board is as unsure as the view's clicks leave it, the place in the frame is not", () => {
    const attempt = makeAttempt({ watts: { C1: 0.04 }, seed: "clicks" });
    const { sourcePx, sourceSigmaPx } = findHotspots({ ...attempt, board: BOARD, view: VIEW }).hotspots[0]!;
    const placed = placeView(VIEW);
    /** The same view, by two clicks 40 px apart that lie so far beside the place. */
    const seenFrom = (offPx: number) => {
      const fiducials = [offPx, offPx + 40].map((dx): View["fiducials"][number] => {
        const pixel: [number, number] = [sourcePx[0] + dx, sourcePx[1]];
        const [x, y] = placed.toBoard(framePoint(...pixel));
        return { board: [x, y], pixel };
      });
      const { hotspots } = findHotspots({ ...attempt, board: BOARD, view: { ...VIEW, fiducials } });
      return hotspots[0]!;
    };
    for (const [offPx, share] of [
      [-20, Math.SQRT1_2],
      // At lever t of two clicks an error is √(t² + (1 − t)²) of one, the same along both axes.
      [20, Math.hypot(1.5, 0.5)],
    ] as const) {
      const spot = seenFrom(offPx);
      expect(spot.sourceSigmaPx).toBeCloseTo(sourceSigmaPx, 6);
      const mmPerPx = placed.mmPerPxAt(framePoint(...sourcePx));
      expect(spot.viewSigmaMm!).toBeCloseTo(CLICK_SIGMA_PX * share * mmPerPx, 3);
      expect(spot.sourceSigmaMm!).toBeCloseTo(Math.hypot(sourceSigmaPx * mmPerPx, spot.viewSigmaMm!), 3);
    }
  });

  it.each([
    ["U1", 0.1],
    ["C1", 0.04],
    ["C2", 0.02],
    ["Q1", 0.15],
    ["U2", 0.3],
  ])("%s with %f W is the first suspect, with its watts and its chance", (ref, watts) => {
    const findings = findOnBoard({ watts: { [ref]: watts }, seed: ref });
    expectContract(findings);
    expect(findings.hotspots).toHaveLength(1);
    const [first] = findings.suspects;
    expect(first!.ref).toBe(ref);
    expect(first!.hotspot).toBe(1);
    // A clear case on a plate that is exactly the model's.
    expect(first!.probability).toBeGreaterThan(0.8);
    const { powerW, powerSigmaW, sourceMm, sourceSigmaMm } = findings.hotspots[0]!;
    expect(powerW).toBe(first!.powerW);
    // Another grid for the plate: 2 %; else what is stated, three times over.
    expect(Math.abs(powerW! - watts)).toBeLessThan(3 * Math.hypot(powerSigmaW!, 0.02 * watts));
    expect(powerSigmaW!).toBeLessThan(0.6 * watts);
    // The place lies on the part: within half of its size and three standard deviations.
    const region = BOARD.regions.find((r) => r.ref === ref)!;
    const [low, , high] = region.polygon;
    const reach = 3 * sourceSigmaMm! + 0.5;
    expect(sourceMm![0]).toBeGreaterThan(low![0] - reach);
    expect(sourceMm![0]).toBeLessThan(high![0] + reach);
    expect(sourceMm![1]).toBeGreaterThan(low![1] - reach);
    expect(sourceMm![1]).toBeLessThan(high![1] + reach);
  });

  it.each([
    ["C1", 0.04],
    ["Q1", 0.15],
    ["U2", 0.005],
  ])("one fault (%s, %f W): suspects and what is unexplained sum to 1", (ref, watts) => {
    const findings = findOnBoard({ watts: { [ref]: watts }, seed: `sum ${ref}` });
    expect(findings.hotspots).toHaveLength(1);
    expect(Math.abs(sumOfFaults(findings) - 1)).toBeLessThan(1e-9);
    const [hotspot] = findings.hotspots;
    expect(hotspot!.nearest.reduce((sum, n) => sum + n.probability, 0)).toBeLessThanOrEqual(1 + 1e-9);
  });

  it("two parts that look alike to the camera: both are listed, and the sum rule holds", () => {
    // C1 doubled: a second name for nearly the same place.
    const twin = BOARD.regions.find((r) => r.ref === "C1")!;
    const polygon = twin.polygon.map(([x, y]): [number, number] => [x + 0.1, y]);
    const board = { ...BOARD, regions: [...BOARD.regions, { ...twin, ref: "C9", polygon }] };
    const findings = findOnBoard({ watts: { C1: 0.02 }, seed: "twins", noiseK: 0.08 }, board);
    expectContract(findings);
    const refs = findings.suspects.slice(0, 2).map((s) => s.ref);
    expect(refs.sort()).toEqual(["C1", "C9"]);
    expect(findings.hotspots).toHaveLength(1);
    expect(Math.abs(sumOfFaults(findings) - 1)).toBeLessThan(1e-9);
  });

  it.each([0.5, 0.7, 0.85, 1, 1.15])(
    "a twin %f mm away: however small its chance, none of it is lost",
    (mm) => {
      const twin = BOARD.regions.find((r) => r.ref === "C1")!;
      const polygon = twin.polygon.map(([x, y]): [number, number] => [x + mm, y]);
      const board = { ...BOARD, regions: [...BOARD.regions, { ...twin, ref: "C9", polygon }] };
      const findings = findOnBoard({ watts: { C1: 0.01 }, seed: "twins", noiseK: 0.1 }, board);
      expect(findings.hotspots).toHaveLength(1);
      expect(Math.abs(sumOfFaults(findings) - 1)).toBeLessThan(1e-9);
    },
  );

  it("a nudge of whole pixels: the same part, and the movement is found", () => {
    const findings = findOnBoard({ watts: { C2: 0.03 }, seed: "nudged", nudgePx: [4, -3] });
    expectContract(findings);
    expect(findings.suspects[0]!.ref).toBe("C2");
    expect(findings.alignment.trusted).toBe(true);
    // The rise is drawn on thirds of pixels: its edges lie 0.16 px left of the board's, and are as strong as they.
    expect(Math.abs(findings.alignment.dxPx - 4)).toBeLessThan(0.2 + 0.16 / 2);
    expect(Math.abs(findings.alignment.dyPx + 3)).toBeLessThan(0.2);
  });

  it("a part that is normally warm is listed and marked, and no fault", () => {
    const board = {
      ...BOARD,
      regions: BOARD.regions.map((r) => (r.ref === "U2" ? { ...r, normallyWarm: true } : r)),
    };
    const alone = findOnBoard({ watts: { U2: 0.3 }, seed: "warm alone" }, board);
    expectContract(alone);
    const warm = alone.suspects.find((s) => s.ref === "U2")!;
    expect(warm.normallyWarm).toBe(true);
    expect(alone.suspects.filter((s) => !s.normallyWarm)).toEqual([]);
    expect(alone.verdict).toMatch(/normally warm/);
    const both = findOnBoard({ watts: { U2: 0.3, C1: 0.04 }, seed: "warm and fault" }, board);
    expectContract(both);
    expect(both.suspects[0]!.ref).toBe("C1");
    expect(Math.abs(sumOfFaults(both) - 1)).toBeLessThan(1e-9);
  });

  it("two faults: both parts are named", () => {
    const findings = findOnBoard({ watts: { U1: 0.1, C1: 0.05 }, seed: "two faults" });
    expectContract(findings);
    expect(
      findings.suspects
        .slice(0, 2)
        .map((s) => s.ref)
        .sort(),
    ).toEqual(["C1", "U1"]);
  });

  it("nothing powered: nothing hot, no suspect, and how small a rise would have been seen", () => {
    for (const seed of ["none", "nil", "zilch"]) {
      const findings = findOnBoard({ seed });
      expectContract(findings);
      expect(findings.hotspots).toEqual([]);
      expect(findings.unexplained).toBeNull();
      expect(findings.notes.find((n) => n.code === "N_NOTHING_HOT")!.text).toMatch(/\d\.\d+ K/);
    }
  });

  it("a spot of the size it says would have been seen is seen when it is half as high again", () => {
    const { baseline, powered } = makeAttempt({ seed: "smallest", patternK: 0 });
    const { threshold } = findHotspots({ baseline, powered });
    const warmed = powered.map(({ raster }) => {
      const data = raster.data.map((v, i) => {
        const r2 = ((i % 128) - 70) ** 2 + (Math.floor(i / 128) - 70) ** 2;
        // A small spot: 1.5 px of its own, which the smoothing halves.
        return v + 3 * threshold.riseK * Math.exp(-r2 / (2 * 1.5 ** 2));
      });
      return frameFromRaster(createRaster("degC", 128, 96, data));
    });
    const found = findHotspots({ baseline, powered: warmed });
    expect(found.hotspots.length).toBeGreaterThanOrEqual(1);
    const { sourcePx } = found.hotspots[0]!;
    expect(Math.hypot(sourcePx[0] - 70, sourcePx[1] - 70)).toBeLessThan(1.5);
  });
});

describe("findHotspots without a board", () => {
  it("pixels only: what can't be known is null, nobody is suspected", () => {
    const findings = findHotspots(makeAttempt({ watts: { C1: 0.05 }, seed: "no board" }));
    expectContract(findings);
    expect(findings.hotspots.length).toBeGreaterThanOrEqual(1);
    const [first] = findings.hotspots;
    expect(first).toMatchObject({ sourceMm: null, sourceSigmaMm: null, areaMm2: null, powerW: null });
    expect(first!.nearest).toEqual([]);
    expect(findings.suspects).toEqual([]);
    expect(findings.unexplained).toBeNull();
    // A spot of 5 K under 40 mK of noise: nothing else comes near. C1's centre is at 30.8 and 5.45 mm.
    expect(Math.abs(first!.sourcePx[0] - (9.3 + 2.7 * 30.8))).toBeLessThan(1);
    expect(Math.abs(first!.sourcePx[1] - (14.8 + 2.7 * 5.45))).toBeLessThan(1);
  });

  it("a board without a view: said, and pixels only", () => {
    const findings = findHotspots({ ...makeAttempt({ watts: { C1: 0.05 } }), board: BOARD });
    expect(findings.notes.map((n) => n.code)).toContain("N_VIEW_MISSING");
    expect(findings.suspects).toEqual([]);
  });
});
