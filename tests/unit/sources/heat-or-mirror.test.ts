import { describe, expect, it } from "vitest";
import { FIT_DEFAULTS } from "../../../src/sources/fit-defaults.js";
import {
  type FaceEvidence,
  HEAT_OR_MIRROR_DEFAULTS,
  heatOrMirror,
  leastHeatStep,
  mirroredShare,
  shinyFromBaseline,
} from "../../../src/sources/heat-or-mirror.js";

/** Log odds from which a change is taken for heat. */
const HEAT = FIT_DEFAULTS.leastHeatOdds;
/** A dull part of 12 mm² in a quiet room, whose surroundings tell nothing. */
const FACE: FaceEvidence = {
  what: "part",
  stepAtNoneK: 0,
  stepPerWattK: 0,
  stepSigmaK: 0.01,
  emissivity: 0.93,
  shinyChance: 0,
  areaMm2: 12,
  aroundW: 0,
  aroundSigmaW: Number.POSITIVE_INFINITY,
  besideKPerW: 30,
  underKPerW: 30,
  roomK: 0.3,
  conductanceKnown: true,
  alone: false,
};
const odds = (face: Partial<FaceEvidence>): number => heatOrMirror({ ...FACE, ...face });
/** Watts at which a body of that area has its usual step. */
const usualWatts = (stepK: number, areaMm2: number): number =>
  (stepK * Math.sqrt(areaMm2)) / HEAT_OR_MIRROR_DEFAULTS.bodyKMmPerW;
/** Smallest step, K, that is taken for heat; steps in per cents. */
function needed(face: Partial<FaceEvidence>): number {
  for (let stepAtNoneK = 0.02; stepAtNoneK < 50; stepAtNoneK *= 1.01) {
    if (odds({ ...face, stepAtNoneK }) >= HEAT) return stepAtNoneK;
  }
  return Number.POSITIVE_INFINITY;
}
/** A mirror with a step as a hand makes, its surroundings seen to 5 mW. */
const HAND = { stepAtNoneK: 2, shinyChance: 0.95, roomK: 1, aroundSigmaW: 0.005 };

describe("heatOrMirror: a dull face alone", () => {
  it("a step of 1 K on moulding is heat, one of 0.05 K is not", () => {
    expect(odds({ stepAtNoneK: 1 })).toBeGreaterThan(HEAT);
    expect(odds({ stepAtNoneK: 0.05 })).toBeLessThan(HEAT);
  });

  it("more step is more heat, once it is heat", () => {
    const least = needed({});
    let last = Number.NEGATIVE_INFINITY;
    for (const factor of [1, 1.5, 2, 3, 4, 6]) {
      const now = odds({ stepAtNoneK: factor * least });
      expect(now).toBeGreaterThan(last);
      last = now;
    }
  });

  it("a face that got cooler than the board is no heat", () => {
    for (const stepAtNoneK of [-0.3, -1, -4]) expect(odds({ stepAtNoneK })).toBeLessThan(HEAT);
  });

  it("what it needs grows with the change of the room", () => {
    const steps = [0.3, 0.6, 1.2, 2.4, 4.8].map((roomK) => needed({ roomK }));
    for (let k = 1; k < steps.length; k++) expect(steps[k]!).toBeGreaterThan(steps[k - 1]!);
    expect(steps.at(-1)! / steps[0]!).toBeGreaterThan(3);
  });

  it("a step that is less well known is less evidence", () => {
    const sharp = odds({ stepAtNoneK: 1, stepSigmaK: 0.01 });
    const vague = odds({ stepAtNoneK: 1, stepSigmaK: 0.5 });
    expect(vague).toBeLessThan(sharp);
    // Known to 5 K it may as well be none: what was thought before is left, to a factor of e.
    const none = odds({ stepAtNoneK: 1, stepSigmaK: 5 });
    expect(Math.abs(none - HEAT_OR_MIRROR_DEFAULTS.oneOfMany)).toBeLessThan(1);
  });

  it("the more it throws back, the more it needs", () => {
    expect(mirroredShare(0.5)).toBeGreaterThan(mirroredShare(0.7));
    expect(mirroredShare(0.7)).toBeGreaterThan(mirroredShare(0.93));
    // The same change as the camera shows it: 1 K.
    expect(odds({ stepAtNoneK: 1 / 0.6, emissivity: 0.6 })).toBeLessThan(odds({ stepAtNoneK: 1 / 0.93 }));
    expect(odds({ stepAtNoneK: 1, shinyChance: 0.5 })).toBeLessThan(odds({ stepAtNoneK: 1 }));
  });
});

describe("heatOrMirror: a face that may be a mirror, and the board around it", () => {
  it("a step as a hand makes, and no heat around: a mirror", () => {
    expect(odds(HAND)).toBeLessThan(HEAT);
    expect(odds({ ...HAND, emissivity: 0.6, shinyChance: 0.3 })).toBeLessThan(HEAT);
  });

  it("the same with the heat around that such a step needs: heat", () => {
    expect(odds({ ...HAND, aroundW: usualWatts(2, 12) })).toBeGreaterThan(HEAT);
  });

  it("a mirror that heats shows the room, and warms the board around it all the same: whatever its step, heat", () => {
    for (const stepAtNoneK of [-2, -0.3, 0.3, 2]) {
      const shiny = { ...HAND, shinyChance: 0.6, stepAtNoneK };
      expect(odds({ ...shiny, aroundW: 0.2 }), `${stepAtNoneK} K`).toBeGreaterThan(HEAT + 1);
      expect(odds(shiny), `${stepAtNoneK} K, nothing around`).toBeLessThan(HEAT);
    }
    // A dull face that stayed colder than the board which it would warm does not heat.
    expect(odds({ ...HAND, shinyChance: 0, stepAtNoneK: -2, aroundW: 0.2 })).toBeLessThan(HEAT);
  });

  it("where nothing else heats, a board that warmed by 15 σ of its noise is surer heat than beside a hot part", () => {
    // The face is a few tenths cooler than its watts would make it.
    const face = { stepAtNoneK: 0.3, stepPerWattK: -20, aroundSigmaW: 0.002, roomK: 0.9 };
    const beside = odds({ ...face, aroundW: 0.03 });
    expect(odds({ ...face, aroundW: 0.03, alone: true })).toBeGreaterThan(beside + 2);
    // Five σ, as mirrored rooms leave in the mask, are not.
    expect(odds({ ...face, aroundW: 0.01, alone: true })).toBeLessThan(
      odds({ ...face, aroundW: 0.01 }) + 0.5,
    );
  });

  it("any step, large or small, with no heat around is a mirror's rather than heat", () => {
    for (const stepAtNoneK of [0.05, 0.1, 0.2, 0.5, 1, 2, 5])
      expect(odds({ ...HAND, roomK: 0.3, stepAtNoneK }), `${stepAtNoneK} K`).toBeLessThan(HEAT);
  });

  it("the more watts the board around shows, the more it is heat, up to what the step explains", () => {
    for (const what of ["part", "warmPart", "freePlace"] as const) {
      let last = Number.NEGATIVE_INFINITY;
      for (const share of [0, 0.25, 0.5, 0.75, 1]) {
        const now = odds({ ...HAND, what, aroundW: share * usualWatts(2, 12) });
        expect(now, `${what} ${share}`).toBeGreaterThanOrEqual(last);
        last = now;
      }
    }
  });

  it("surroundings that show no heat, or got cooler, never speak for it", () => {
    for (const shinyChance of [0, 0.95]) {
      for (const stepAtNoneK of [0.3, 1, 3]) {
        const untold = odds({ ...HAND, shinyChance, stepAtNoneK, aroundSigmaW: 1e9 });
        for (const aroundW of [0, -0.01, -0.05, -0.3])
          expect(odds({ ...HAND, shinyChance, stepAtNoneK, aroundW })).toBeLessThanOrEqual(untold + 1e-9);
      }
    }
  });

  it("surroundings known less well tell less, either way", () => {
    const watts = usualWatts(2, 12);
    const heat = [0.005, 0.02, 0.5].map((aroundSigmaW) => odds({ ...HAND, aroundW: watts, aroundSigmaW }));
    expect(heat[0]!).toBeGreaterThan(heat[1]!);
    expect(heat[1]!).toBeGreaterThan(heat[2]!);
    const none = [0.005, 0.02, 0.5].map((aroundSigmaW) => odds({ ...HAND, aroundSigmaW }));
    expect(none[0]!).toBeLessThan(none[1]!);
    expect(none[1]!).toBeLessThan(none[2]!);
  });

  it("hills that a mirrored room makes on the mask grow with its change: the same watts then tell less", () => {
    const watts = usualWatts(2, 12);
    const quiet = odds({ ...HAND, aroundW: watts, roomK: 0.5 });
    expect(odds({ ...HAND, aroundW: watts, roomK: 6 })).toBeLessThan(quiet);
  });
});

describe("heatOrMirror: what the place is", () => {
  it("a free place needs more than a named part", () => {
    expect(needed({ what: "freePlace" })).toBeGreaterThan(needed({ what: "part" }));
    const face = { ...HAND, aroundW: usualWatts(2, 12) };
    expect(odds({ ...face, what: "freePlace" })).toBeLessThan(odds(face));
  });

  it("a part that warms on a healthy board needs no more than any other", () => {
    expect(needed({ what: "warmPart" })).toBeLessThanOrEqual(needed({ what: "part" }));
  });
});

describe("leastHeatStep", () => {
  it("is the step at which a dull part in the usual room becomes heat", () => {
    for (const wanted of [HEAT, HEAT + 2]) {
      const apparentK = leastHeatStep(0.93, wanted);
      const usual = { roomK: 0.8, areaMm2: 10, stepSigmaK: 0, stepPerWattK: 0, underKPerW: 0 };
      // Found in steps of 2 %.
      expect(odds({ ...usual, stepAtNoneK: (1.03 * apparentK) / 0.93 })).toBeGreaterThanOrEqual(wanted);
      expect(odds({ ...usual, stepAtNoneK: (0.95 * apparentK) / 0.93 })).toBeLessThan(wanted);
    }
    expect(leastHeatStep(0.93, HEAT + 2)).toBeGreaterThan(leastHeatStep(0.93, HEAT));
  });
});

describe("shinyFromBaseline", () => {
  it("a face that stands out of the unpowered board is the more probably a mirror; one that does not, the less", () => {
    const chances = [0, 0.2, 0.5, 1, 2, 4].map((k) => shinyFromBaseline(0.15, k));
    for (let k = 1; k < chances.length; k++) expect(chances[k]!).toBeGreaterThan(chances[k - 1]!);
    expect(chances[0]!).toBeLessThan(0.15);
    expect(chances.at(-1)!).toBeGreaterThan(0.5);
    expect(shinyFromBaseline(0.15, -2)).toBe(shinyFromBaseline(0.15, 2));
  });

  it("what was certain stays certain, and where nothing is seen nothing changes", () => {
    expect(shinyFromBaseline(0, 3)).toBe(0);
    expect(shinyFromBaseline(1, 0)).toBe(1);
    expect(shinyFromBaseline(0.15, null)).toBe(0.15);
    expect(shinyFromBaseline(0.15, Number.NaN)).toBe(0.15);
  });

  it("two pictures tell more than one", () => {
    const once = shinyFromBaseline(0.15, 2);
    expect(shinyFromBaseline(once, 2)).toBeGreaterThan(once);
  });
});
