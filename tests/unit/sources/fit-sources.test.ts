import { describe, expect, it } from "vitest";
import { placeView } from "../../../src/board/place-view.js";
import { centroid } from "../../../src/board/polygon.js";
import { boardPoint } from "../../../src/core/units.js";
import { fitSources } from "../../../src/sources/fit-sources.js";
import { SourceModel } from "../../../src/sources/source-model.js";
import { BOARD, relaxPlate, showRise, VIEW } from "./relaxed-plate.js";

const NOISE_K = 0.04;
const { width, height } = VIEW.frame;
const model = new SourceModel(BOARD, placeView(VIEW), width, height, (region) =>
  boardPoint(...centroid(region.polygon)),
);

function fitRise(watts: Readonly<Record<string, number>>, seed: string) {
  const rise = showRise(watts, NOISE_K, seed);
  const variance = new Float32Array(width * height).fill(NOISE_K ** 2);
  // The one nuisance: the board's level against its surroundings.
  const level = Float32Array.from(model.seen.onBoard, Number);
  const nuisance = [{ what: "level" as const, ref: null, values: level, priorSigma: 0.3 }];
  return fitSources(model, rise.data, variance, () => nuisance, [], 30);
}

describe("the test's own plate", () => {
  it("keeps the balance of energy: the mean rise of 0.4 W is 20.83 K", () => {
    const { rise } = relaxPlate({ U2: 0.4 });
    const mean = rise.reduce((a, b) => a + b, 0) / rise.length;
    expect(Math.abs(mean / (0.4 / (20 * 0.04 * 0.024)) - 1)).toBeLessThan(1e-3);
  });
});

describe("fitSources on a rise that another solver made", () => {
  it.each([
    ["U1", 0.2],
    ["C1", 0.1],
    ["C2", 0.05],
    ["Q1", 0.3],
  ])("%s with %f W: the right part, and its watts within the stated interval", (ref, watts) => {
    const { sources, coolingLengthMm } = fitRise({ [ref]: watts }, ref);
    expect(sources[0]!.candidate.ref).toBe(ref);
    // Cooling lengths are tried in steps of 1.4; the plate's is 20 mm.
    expect(coolingLengthMm).toBeGreaterThanOrEqual(14);
    expect(coolingLengthMm).toBeLessThanOrEqual(28);
    // The same constants, another grid: 2 % apart at the source itself. Beside the stated noise the model grants
    // itself an error of several percent, of which its interval must tell.
    const { powerW, powerSigmaW } = sources[0]!;
    expect(Math.abs(powerW - watts)).toBeLessThan(3 * Math.hypot(powerSigmaW, 0.02 * watts));
    expect(powerSigmaW).toBeGreaterThan(0);
    expect(powerSigmaW).toBeLessThan(0.5 * watts);
  });

  it("two parts at once: both, with their watts, strongest evidence or not", () => {
    const { sources } = fitRise({ U2: 0.25, C1: 0.1 }, "two");
    const found = new Map(sources.map((s) => [s.candidate.ref, s]));
    for (const [ref, watts] of [
      ["U2", 0.25],
      ["C1", 0.1],
    ] as const) {
      const source = found.get(ref)!;
      expect(source, `${ref} is found`).toBeDefined();
      expect(Math.abs(source.powerW / watts - 1)).toBeLessThan(0.25);
    }
  });

  it("alternatives: the source itself loses nothing, the others more the further they are", () => {
    const { sources } = fitRise({ C1: 0.1 }, "alternatives");
    const { alternatives } = sources[0]!;
    expect(alternatives[0]!.candidate.ref).toBe("C1");
    expect(alternatives[0]!.loss).toBe(0);
    for (let k = 1; k < alternatives.length; k++) {
      expect(alternatives[k]!.loss).toBeGreaterThanOrEqual(alternatives[k - 1]!.loss);
    }
    const lossOf = (ref: string) => alternatives.find((a) => a.candidate.ref === ref)!.loss;
    expect(lossOf("Q1")).toBeGreaterThan(lossOf("C2"));
  });

  it("twice the watts and twice the noise are the same parts with twice the watts", () => {
    const rise = showRise({ U1: 0.2 }, NOISE_K, "scaled");
    const variance = new Float32Array(width * height).fill(NOISE_K ** 2);
    const level = Float32Array.from(model.seen.onBoard, Number);
    const fitScaled = (factor: number) =>
      fitSources(
        model,
        rise.data.map((v) => factor * v),
        variance.map((v) => factor * factor * v),
        () => [{ what: "level" as const, ref: null, values: level, priorSigma: 0.3 * factor }],
        [],
        30,
      );
    const [one, two] = [fitScaled(1), fitScaled(2)];
    expect(two.sources.map((s) => s.candidate.ref)).toEqual(one.sources.map((s) => s.candidate.ref));
    expect(two.coolingLengthMm).toBe(one.coolingLengthMm);
    one.sources.forEach((source, k) => {
      expect(two.sources[k]!.powerW / source.powerW).toBeCloseTo(2, 4);
      expect(two.sources[k]!.powerSigmaW / source.powerSigmaW).toBeCloseTo(2, 3);
      expect(two.sources[k]!.evidence / source.evidence).toBeCloseTo(1, 3);
    });
  });

  it("noise alone: no source", () => {
    const { sources } = fitRise({}, "nothing");
    expect(sources).toEqual([]);
  });

  it("cold instead of warm: no source, since no part takes heat away", () => {
    const rise = showRise({ U1: 0.2 }, 0, "cold");
    const variance = new Float32Array(width * height).fill(NOISE_K ** 2);
    const level = Float32Array.from(model.seen.onBoard, Number);
    const nuisance = [{ what: "level" as const, ref: null, values: level, priorSigma: 1e-6 }];
    const { sources } = fitSources(
      model,
      rise.data.map((v) => -v),
      variance,
      () => nuisance,
      [],
      30,
    );
    expect(sources.filter((s) => s.powerW > 0)).toEqual([]);
  });
});
