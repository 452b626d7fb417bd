import { describe, expect, it } from "vitest";
import { FINISH_EMISSIVITY } from "../../../src/board/emissivity.js";
import { FIT_DEFAULTS } from "../../../src/sources/fit-defaults.js";
import { type FaceEvidence, heatOrMirror } from "../../../src/sources/heat-or-mirror.js";
import { leastHeatStep } from "../../../src/sources/least-heat-step.js";

/** Log odds from which a change is taken for heat. */
const HEAT = FIT_DEFAULTS.leastHeatOdds;

/** Log odds of a step, K as the camera shows it, on a dull part of 10 mm² alone in the usual room, whose surroundings
 *  tell nothing. */
function oddsOf(stepK: number, emissivity: number): number {
  const face: FaceEvidence = {
    what: "part",
    stepAtNoneK: stepK / emissivity,
    stepPerWattK: 0,
    stepSigmaK: 0,
    emissivity,
    shinyChance: 0,
    areaMm2: 10,
    aroundW: 0,
    aroundSigmaW: Number.POSITIVE_INFINITY,
    besideKPerW: 1,
    underKPerW: 0,
    roomK: 0.8,
    warmerChance: 0.5,
    conductanceKnown: true,
    alone: true,
  };
  return heatOrMirror(face);
}

/** The steps there are, each 2 % larger than the one before. */
const STEPS: number[] = [];
for (let stepK = 0.02; stepK < 20; stepK *= 1.02) STEPS.push(stepK);

describe("leastHeatStep", () => {
  it("is the step at which a dull part in the usual room becomes heat", () => {
    const { emissivity } = FINISH_EMISSIVITY.moulded;
    for (const wanted of [HEAT, HEAT + 2]) {
      const stepK = leastHeatStep(emissivity, wanted);
      // Found in steps of 2 %.
      expect(oddsOf(1.03 * stepK, emissivity)).toBeGreaterThanOrEqual(wanted);
      expect(oddsOf(0.95 * stepK, emissivity)).toBeLessThan(wanted);
    }
    expect(leastHeatStep(emissivity, HEAT + 2)).toBeGreaterThan(leastHeatStep(emissivity, HEAT));
  });

  it.each([0.93, 0.6])(
    "is the first of all steps that is enough, whatever is skipped (emissivity %f)",
    (emissivity) => {
      const logOdds = STEPS.map((stepK) => oddsOf(stepK, emissivity));
      for (const at of [180, 191, 192, 193, 200, 207]) {
        const first = logOdds.findIndex((log) => log >= logOdds[at]!);
        expect(leastHeatStep(emissivity, logOdds[at]!)).toBe(STEPS[first]);
      }
    },
  );

  it("is the smallest step where any is enough, and 20 K where none is", () => {
    expect(leastHeatStep(0.93, -1e9)).toBe(0.02);
    expect(leastHeatStep(0.93, 1e9)).toBe(20);
  });
});
