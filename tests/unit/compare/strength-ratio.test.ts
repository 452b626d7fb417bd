import { describe, expect, it } from "vitest";
import { type PartPair, sharedSigma, strengthRatios } from "../../../src/compare/strength-ratio.js";
import type { PartFindings } from "../../../src/findings/parts-schema.js";
import { makeFindings } from "./make-findings.js";

const PLAIN = makeFindings().parts!.find(({ ref }) => ref === "C6")!;

/** A part with watts that were found, and a contrast, of which noise is a fiftieth. */
function heating(
  powerW: number | null,
  contrastK: number | null,
  own: Partial<PartFindings> = {},
): PartFindings {
  const contrast = {
    contrastK,
    contrastSigmaK: contrastK === null ? null : 0.02 * contrastK,
    contrastGain: 0.3,
  };
  const watts = { powerW, powerNoiseW: powerW === null ? null : 0.02 * powerW };
  const tried = { triedW: powerW, triedSigmaW: 0.02 * (powerW ?? 0), triedEvidence: 300 };
  return { ...PLAIN, riseK: 1, ...watts, ...tried, ...contrast, ...own };
}
const pair = (watts: readonly [number, number], contrasts: readonly [number, number]): PartPair => [
  heating(watts[0], contrasts[0]),
  heating(watts[1], contrasts[1]),
];
const alone = (one: PartPair, stateLog = 0) => strengthRatios([one], stateLog)[0]!;

describe("strengthRatios", () => {
  it("is the ratio that watts and contrasts agree on, better known than by either", () => {
    const both = alone(pair([0.1, 0.2], [1, 2]));
    expect(both.log).toBeCloseTo(Math.log(2), 2);
    const byWatts = alone([heating(0.1, null), heating(0.2, null)]);
    expect(byWatts.log).toBeCloseTo(Math.log(2), 9);
    expect(both.sigma).toBeLessThan(byWatts.sigma);
  });

  it("takes what is wrong with all watts alike off those of a part that shows no contrast", () => {
    // Watts of two parts rose fourfold, while their faces show no more than before.
    const wrong = [pair([0.1, 0.4], [1, 1]), pair([0.3, 1.2], [2, 2])];
    const [, , hidden] = strengthRatios([...wrong, [heating(0.05, null), heating(0.2, null)]], 0);
    expect(Math.abs(hidden!.log)).toBeLessThan(0.15);
    expect(alone([heating(0.05, null), heating(0.2, null)]).log).toBeCloseTo(Math.log(4), 9);
    // That error is one of all of them: of hidden parts, whose watts rest on it wholly, most.
    expect(sharedSigma(hidden!)).toBeGreaterThan(0.05);
  });

  it("leans to the contrast where both ways contradict each other, and is the less certain", () => {
    const torn = alone(pair([0.1, 0.1], [1, 3]));
    expect(torn.log).toBeGreaterThan(0.6 * Math.log(3));
    expect(torn.sigma).toBeGreaterThan(2 * alone(pair([0.1, 0.3], [1, 3])).sigma);
  });

  it("counts what uneven copper makes of a step only as far as its share of the rise differs", () => {
    const sigma = (riseK: number) =>
      alone([heating(null, 1, { triedW: 0, riseK: 5 }), heating(null, 2, { triedW: 0, riseK })]).sigma;
    // The step is a fifteenth of a rise of 5 K by its gain; of 10 K again, and of 20 K half as much.
    expect(sigma(10)).toBeCloseTo(Math.hypot(0.1, 0.02, 0.02, (0.02 * 5) / 0.3), 9);
    expect(sigma(20)).toBeCloseTo(Math.hypot(0.1, 0.02, 0.02, (0.02 * 10) / 0.3, (0.025 * 5) / 0.3), 9);
  });

  it("turns round with the attempts exchanged", () => {
    const pairs = [pair([0.1, 0.25], [1, 2]), pair([0.2, 0.7], [2.2, 2])];
    const there = strengthRatios(pairs, 0.2);
    const back = strengthRatios(
      pairs.map(([a, b]): PartPair => [b, a]),
      0.2,
    );
    there.forEach((ratio, k) => {
      expect(back[k]!.log).toBeCloseTo(-ratio!.log, 9);
      expect(back[k]!.sigma).toBeCloseTo(ratio!.sigma, 9);
    });
  });

  it("is null of a part that nothing measures in both attempts", () => {
    expect(strengthRatios([[heating(0.1, 1), heating(null, null, { triedW: 0 })]], 0)).toEqual([null]);
  });
});
