import { describe, expect, it } from "vitest";
import { alignError } from "../../evaluate/align-error.js";
import type { Answer } from "../../evaluate/answer.js";
import { plainAnswer } from "../../evaluate/plain-chain.js";
import { scoreAnswer } from "../../evaluate/score.js";
import { solveView } from "../../evaluate/solve-view.js";
import { makeScene } from "../../simulate/make-scene.js";

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

describe("scoring of probabilities", () => {
  const suspect = (ref: string, side: "top" | "bottom", probability: number, normallyWarm = false) => ({
    ref,
    side,
    normallyWarm,
    probability,
    powerW: null,
    hotspot: 1,
  });
  const still = { dxPx: 0, dyPx: 0, rotationDeg: 0 };

  it("takes every suspect at its word, a fault that was not named at 0, and no part that is warm anyway", () => {
    const scene = makeScene("near-parts", 7101);
    const [a, b] = scene.truth.sources;
    const { calls, restCall } = scoreAnswer(
      scene,
      "faultglow",
      {
        transform: still,
        hotspots: [],
        suspects: [suspect(b!.ref, b!.side, 0.9), suspect("NO1", "top", 0.2), suspect("U99", "top", 1, true)],
        unexplained: 0.1,
      },
      1,
    );
    expect(calls).toEqual([
      [0.9, true],
      [0.2, false],
      [0, true],
    ]);
    expect(restCall).toBeNull();
    expect(a!.ref).not.toBe(b!.ref);
  });

  it("wants the rest to outweigh all parts where the map does not know the part", () => {
    const scene = makeScene("unlisted", 7106);
    const answer = (unexplained: number): Answer => ({
      transform: still,
      hotspots: [],
      suspects: [suspect("NO1", "top", 0.4)],
      unexplained,
    });
    expect(scoreAnswer(scene, "faultglow", answer(0.6), 1)).toMatchObject({
      rightFirst: true,
      topProbability: null,
      calls: [[0.4, false]],
      restCall: [0.6, true],
    });
    expect(scoreAnswer(scene, "faultglow", answer(0.3), 1).rightFirst).toBe(false);
  });

  it("shares what is stated between the two sides", () => {
    const scene = makeScene("two-sides", 7107);
    const { ref, side } = scene.truth.sources[0]!;
    const other = side === "top" ? "bottom" : "top";
    const suspects = [suspect(ref, side, 0.5), suspect("X1", other, 0.25), suspect("X2", side, 0.05)];
    const score = scoreAnswer(scene, "faultglow", { transform: still, hotspots: [], suspects }, 1);
    expect(score.sideProbability).toBeCloseTo(0.55 / 0.8, 12);
  });
});

describe("scoring of onsets", () => {
  it("compares each part that heats with the hotspot that stands on it", () => {
    const scene = makeScene("onsets", 7108);
    const { sources } = scene.truth;
    const at = sources.map((source, i) => ({
      px: source.px,
      sigmaPx: 0.1,
      powerSigmaW: null,
      onsetS: source.onsetS + 0.3 + i,
      onsetSigmaS: 0.2,
    }));
    const nowhere = { px: [-40, -50] as [number, number], sigmaPx: null, powerSigmaW: null, onsetS: 0 };
    const { onsets } = scoreAnswer(
      scene,
      "faultglow",
      { transform: scene.truth.transform, hotspots: [nowhere, ...at], suspects: [] },
      1,
    );
    expect(onsets.length).toBe(sources.length);
    for (const [i, onset] of onsets.entries()) {
      expect(onset.errorS).toBeCloseTo(0.3 + i, 9);
      expect(onset.sigmaS).toBe(0.2);
      expect(onset.intervalS).toBeCloseTo(1 / scene.rateHz!, 12);
    }
  });

  it("says nothing where no hotspot stands, and nothing outside bursts", () => {
    const scene = makeScene("onsets", 7108);
    const silent = { transform: scene.truth.transform, hotspots: [], suspects: [] };
    expect(scoreAnswer(scene, "faultglow", silent, 1).onsets.every((one) => one.errorS === null)).toBe(true);
    expect(scoreAnswer(makeScene("still", 7103), "faultglow", silent, 1).onsets).toEqual([]);
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
