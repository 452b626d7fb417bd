import { describe, expect, it } from "vitest";
import type { Answer } from "../../evaluate/answer.js";
import { plainAnswer } from "../../evaluate/plain-chain.js";
import { alignError, scoreAnswer } from "../../evaluate/score.js";
import { solveView } from "../../evaluate/solve-view.js";
import { calibration, quantile, shareOf } from "../../evaluate/summary.js";
import { makeScene } from "../../simulate/make-scene.js";

describe("Wilson's interval", () => {
  // Newcombe 1998 (doi 10.1002/(SICI)1097-0258(19980430)17:8<857::AID-SIM777>3.0.CO;2-E), table I, method 3
  // (place from memory; recomputed): 81/263 → 0.2553 … 0.3662, 0/20 → 0 … 0.1611, 15/148 → 0.0624 … 0.1605.
  it.each([
    [81, 263, 0.2553, 0.3662],
    [0, 20, 0, 0.1611],
    [15, 148, 0.0624, 0.1605],
  ])("of %i in %i is %f … %f", (count, of, low, high) => {
    const share = shareOf(Array.from({ length: of }, (_, i) => i < count))!;
    expect(share.low).toBeCloseTo(low, 4);
    expect(share.high).toBeCloseTo(high, 4);
  });
});

describe("calibration", () => {
  it("is perfect when what is said is what happens, and counts what is off", () => {
    const honest = Array.from({ length: 10 }, (_, i) => [0.8, i < 8] as const);
    expect(calibration(honest).calibrationError).toBeCloseTo(0, 12);
    expect(calibration(honest).brier).toBeCloseTo(0.16, 12); // 0.8·0.2² + 0.2·0.8²
    const boastful = Array.from({ length: 10 }, (_, i) => [0.99, i < 6] as const);
    expect(calibration(boastful).calibrationError).toBeCloseTo(0.39, 12);
  });

  it("has nothing to say about nothing", () => {
    expect(calibration([])).toEqual({ calibrationError: null, brier: null });
    expect(quantile([], 0.5)).toBeNull();
    expect(quantile([4, 1, 3, 2], 0.5)).toBe(2.5);
  });
});

describe("scoring", () => {
  const scene = makeScene("near-parts", 7101);
  const [a, b] = scene.truth.sources;
  const suspect = (ref: string, side: "top" | "bottom", powerW: number | null = null) => ({
    ref,
    side,
    normallyWarm: false,
    probability: 0.5,
    powerW,
    hotspot: 1,
  });
  const perfect: Answer = {
    transform: scene.truth.transform,
    hotspots: [
      { px: a!.px, sigmaPx: 0.1, powerSigmaW: 0.01 },
      { px: b!.px, sigmaPx: 0.1, powerSigmaW: 0.01 },
    ],
    suspects: [suspect(b!.ref, b!.side, b!.watts), suspect(a!.ref, a!.side, a!.watts + 0.005)],
  };

  it("gives a perfect answer full marks", () => {
    const score = scoreAnswer(scene, "faultglow", perfect, 1);
    expect(score.rightFirst).toBe(true);
    expect(score.rightPlace).toBe(true);
    expect(score.falseAlarms).toBe(0);
    expect(score.alignErrorPx).toBeCloseTo(0, 9);
    expect(score.wattsError).toBeCloseTo(0.005 / a!.watts, 9);
    expect(score.wattsInside90).toBe(true);
  });

  it("wants both parts of a pair among the first two", () => {
    const half = {
      ...perfect,
      suspects: [perfect.suspects[0]!, suspect("NO1", "top"), perfect.suspects[1]!],
    };
    expect(scoreAnswer(scene, "faultglow", half, 1).rightFirst).toBe(false);
  });

  it("counts a hotspot far from all heat as a false alarm", () => {
    const { width, height } = scene.baseline[0]!;
    const [x, y] = a!.px;
    const far: [number, number] = [x > width / 2 ? 1 : width - 2, y > height / 2 ? 1 : height - 2];
    const more = {
      ...perfect,
      hotspots: [...perfect.hotspots, { px: far, sigmaPx: null, powerSigmaW: null }],
    };
    expect(scoreAnswer(scene, "faultglow", more, 1).falseAlarms).toBe(1);
  });

  it("measures the alignment over the board: a shift off by (3, 4)/10 px is half a pixel off", () => {
    const { dxPx, dyPx, rotationDeg } = scene.truth.transform;
    expect(alignError({ dxPx: dxPx + 0.3, dyPx: dyPx - 0.4, rotationDeg }, scene)).toBeCloseTo(0.5, 9);
  });
});

describe("the plain chain", () => {
  it("finds a strong part on a board that stood still", () => {
    const scene = makeScene("still", 7103);
    const answer = plainAnswer(scene);
    expect(answer.suspects[0]?.ref).toBe(scene.truth.sources[0]!.ref);
    expect(alignError(answer.transform, scene)).toBeLessThan(0.1);
  });

  it("solves a view to what its fiducials allow", () => {
    const scene = makeScene("still", 7104);
    const toBoard = solveView(scene.view);
    const [x, y] = toBoard(scene.truth.sources[0]!.px);
    const { mm } = scene.truth.sources[0]!;
    // Four clicks of 0.3 px each leave about half a pixel at worst.
    expect(Math.hypot(x - mm[0], y - mm[1])).toBeLessThan(0.8 * scene.truth.mmPerPx);
  });
});
