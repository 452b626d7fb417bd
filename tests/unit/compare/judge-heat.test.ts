import { describe, expect, it } from "vitest";
import type { Division } from "../../../src/compare/divide-power.js";
import { judgeHeat, type TestedHeat } from "../../../src/compare/judge-heat.js";
import type { PartHeat } from "../../../src/compare/name-part-heat.js";
import { zForTail } from "../../../src/numeric/normal-distribution.js";
import { makeFindings } from "./make-findings.js";

const NOTE = { code: "N_POWER_DIVIDED", severity: "info", text: "" } as const;
const PLAIN: Division = {
  by: "none",
  factor: 1,
  logSigma: 0,
  shared: 0,
  towardsAfter: 1,
  towardsBefore: 1,
  note: NOTE,
};
const [SPOT] = makeFindings({ heat: [{ ref: "C6", powerW: 0.1 }] }).hotspots;

function heat(ref: string): PartHeat {
  const match = { before: SPOT!, after: SPOT!, distance: 0, sigma: 1, shared: 1, overlap: 1 };
  const shown = [true, true] as const;
  return {
    match,
    ref,
    side: "top",
    probability: 1,
    orElse: [],
    before: null,
    after: null,
    bothSeen: true,
    byFit: false,
    warmthSigmas: 0,
    shown,
  };
}
const both = (ref: string, log: number, sigma: number, division = PLAIN): TestedHeat => ({
  heat: heat(ref),
  division,
  untested: null,
  test: { kind: "both", ratio: { log, sigma, own: sigma } },
});

describe("judgeHeat", () => {
  it("holds the example of Benjamini & Hochberg 1995, J. R. Stat. Soc. B 57:289: four of fifteen at 5 %", () => {
    const chances = [
      0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719, 0.6528,
      0.759, 1,
    ];
    const tests = chances.map((chance, k) => both(`C${k}`, 0.2 * zForTail(chance / 2), 0.2));
    const judged = judgeHeat(tests, 0.05);
    expect(judged.map(({ change }) => change)).toEqual([
      ...new Array(4).fill("hotter"),
      ...new Array(11).fill("persisted"),
    ]);
    // The first and the fourth adjusted chance, recomputed by an independent library.
    expect(judged[0]!.qValue).toBeCloseTo(0.0015, 6);
    expect(judged[3]!.qValue).toBeCloseTo(0.035625, 6);
  });

  it("divides the power out, with its own error", () => {
    const fed: Division = { ...PLAIN, by: "fed", factor: 2, logSigma: 0.3 };
    const [judged] = judgeHeat([both("C6", Math.log(2) + 1, 0.4, fed)], 0.05);
    expect(judged!.z).toBeCloseTo(1 / 0.5, 9);
  });

  it("takes what the plate's state does to all watts for no change, as far as it does it to those that stand for the power", () => {
    // Own errors of 0.3, and 0.5 shared: with a power that shares 0.4 of its own 0.5, √(0.3² + (0.5 − 0.4)² + 0.3²).
    const warm: Division = { ...PLAIN, by: "warm", logSigma: 0.5, shared: 0.4 };
    const one = both("C6", 1, Math.hypot(0.3, 0.5), warm);
    const test = { kind: "both", ratio: { log: 1, sigma: Math.hypot(0.3, 0.5), own: 0.3 } } as const;
    const [judged] = judgeHeat([{ ...one, test }], 0.05);
    expect(judged!.z).toBeCloseTo(1 / Math.sqrt(0.19), 9);
  });

  it("turns the sign round: what is cooler per watt has a z below zero, and the log with the power taken off", () => {
    const fed: Division = { ...PLAIN, by: "fed", factor: 2, logSigma: 0.3 };
    const [cooler] = judgeHeat([both("C6", Math.log(2) - 3, 0.4, fed)], 0.05);
    expect(cooler!.z).toBeCloseTo(-6, 9);
    expect(cooler!.log!.ratio).toBeCloseTo(-3, 9);
    expect(cooler!.log!.sigma).toBeCloseTo(0.5, 9);
    expect(cooler!.change).toBe("cooler");
  });

  it("holds heat of both attempts against both ends of the scale, heat of one against one", () => {
    const one = (sigmas: number | null): TestedHeat => ({
      ...both("C6", 0, 1),
      heat: { ...heat("C6"), byFit: false, shown: [false, true] },
      test: { kind: "one", sigmas, doubt: null },
    });
    // Tails of the normal distribution at 1.96: 2.5 % on one side, 5 % on both (any table).
    expect(judgeHeat([one(1.96)], 0.2)[0]).toMatchObject({ change: "new", z: 1.96 });
    expect(judgeHeat([one(1.96)], 0.2)[0]!.pValue).toBeCloseTo(0.025, 4);
    expect(judgeHeat([both("C6", 1.96, 1)], 0.2)[0]!.pValue).toBeCloseTo(0.05, 4);
    // Nothing to test it by: neither gone nor new, and it takes no part in the rate of false ones.
    const [untold, told] = judgeHeat([one(null), both("U1", 2.1, 1)], 0.05);
    expect(untold).toMatchObject({ change: "unsure", z: null, pValue: null, qValue: null });
    expect(told!.qValue).toBeCloseTo(told!.pValue!, 12);
  });

  it("tests nothing where there is no ratio, or where one attempt does not see the part", () => {
    const none: TestedHeat = { ...both("C6", 9, 1), test: { kind: "both", ratio: null } };
    const unseen: TestedHeat = { ...both("C6", 9, 1), heat: { ...heat("C6"), bothSeen: false } };
    expect(judgeHeat([none], 0.05)[0]).toMatchObject({
      change: "persisted",
      z: null,
      pValue: null,
      log: null,
    });
    expect(judgeHeat([unseen], 0.05)[0]).toMatchObject({
      change: "unsure",
      z: null,
      pValue: null,
      log: null,
    });
  });

  it("two parts that grew are each asked both ways, and one that only keeps its share between them is not", () => {
    // Twice the power is fed in. C6 and U6 took all of it; U1 is as hot as before, half as hot per watt: it persisted,
    // although more than one changed; alone beside one that changed it is held against what that one alone explains.
    const fed: Division = { ...PLAIN, by: "fed", factor: 2, logSigma: 0 };
    const judged = judgeHeat(
      [both("C6", Math.log(6), 0.1, fed), both("U6", Math.log(8), 0.1, fed), both("U1", 0, 0.1, fed)],
      0.05,
    );
    expect(judged.map(({ change }) => change)).toEqual(["hotter", "hotter", "persisted"]);
    expect(judged[2]!.z).toBe(0);
    // The one part that changed is held against the power alone, not against both ways: its z is that of the ratio per
    // watt.
    const [only] = judgeHeat([both("C6", Math.log(6), 0.1, fed), both("U1", Math.log(2), 0.1, fed)], 0.05);
    expect(only!.z).toBeCloseTo(Math.log(3) / 0.1, 9);
    const [cold] = judgeHeat([both("C6", Math.log(1.2), 0.1, fed), both("U1", Math.log(2), 0.1, fed)], 0.05);
    expect(cold!.change).toBe("cooler");
    expect(cold!.z).toBeCloseTo(Math.log(0.6) / 0.1, 9);
  });

  it("weighs all parts together where each by itself tells no change: the one that takes less makes the others look stronger", () => {
    // 0.75 times as much is fed in. Per watt C6 lost 0.58, and U1 and U6 gained 0.38 and 0.61; as they are C6 lost 0.87
    // and the others nearly nothing, so that C6 alone explains all of it.
    const fed: Division = { ...PLAIN, by: "fed", factor: 0.75, logSigma: 0.05 };
    const log = (perWatt: number) => perWatt + Math.log(0.75);
    const ratios = [
      both("C6", log(-0.58), 0.23, fed),
      both("U1", log(0.38), 0.16, fed),
      both("U6", log(0.61), 0.27, fed),
    ];
    const judged = judgeHeat(ratios, 0.02);
    expect(judged.map(({ change }) => change)).toEqual(["cooler", "persisted", "persisted"]);
    expect(judged[0]!.z).toBeLessThan(-2.8);
    expect(judged.map(({ together }) => together)).toEqual([true, undefined, undefined]);
    expect(judged[0]!.qValue).toBeCloseTo(3 * judged[0]!.pValue!, 9);
    // What is told of the others stays as it was: of each by itself.
    expect(judged[1]!.z).toBeCloseTo(0.38 / Math.hypot(0.16, 0.05), 9);
    // Where the watts fed in are not known, nothing speaks against others that changed.
    const unfed = ratios.map((one) => ({ ...one, division: { ...fed, by: "warm" as const } }));
    expect(judgeHeat(unfed, 0.02).map(({ change }) => change)).toEqual([
      "persisted",
      "persisted",
      "persisted",
    ]);
  });

  it("weighs two parts together as it does three: each then stands against the other and the power alone", () => {
    // 0.75 times as much is fed in. Per watt C6 lost 0.55 and U1 gained 0.43: 2.46 and 2.28 sigma, of which neither
    // tells a change at 2 % (2.58 for the first of two). If C6 changed, U1 as it is lies 0.43 + ln 0.75 above 0; if U1
    // did, C6 alone lies 0.55 below the power. χ² by hand, each change at a cost of 4.4: 12.0 without C6 against 5.2
    // with it, √6.77 = 2.60 sigma.
    const fed: Division = { ...PLAIN, by: "fed", factor: 0.75, logSigma: 0.1 };
    const [c6, u1] = [
      both("C6", -0.55 + Math.log(0.75), 0.2, fed),
      both("U1", 0.43 + Math.log(0.75), 0.16, fed),
    ];
    const judged = judgeHeat([c6, u1], 0.02);
    expect(judged.map(({ change, together }) => [change, together])).toEqual([
      ["cooler", true],
      ["persisted", undefined],
    ]);
    const square = (0.55 / 0.2) ** 2 + 4.4 - ((0.43 + Math.log(0.75)) / 0.16) ** 2 - 4.4;
    expect(judged[0]!.z).toBeCloseTo(-Math.sqrt(square), 6);
    expect(judged[0]!.qValue).toBeCloseTo(2 * judged[0]!.pValue!, 9);
    expect(judged[1]!.z).toBeCloseTo(0.43 / Math.hypot(0.16, 0.1), 9);
  });

  it("leaves a part that is alone in both attempts as it was judged among all: there is nothing to weigh it with", () => {
    // 3.2 sigma are one chance in 728: too few for one of twenty at 2 %, and enough for one of one.
    const fed: Division = { ...PLAIN, by: "fed", factor: 0.75, logSigma: 0.05 };
    const lone = both("C6", Math.log(0.75) - 3.2 * Math.hypot(0.2, 0.05), 0.2, fed);
    const others = Array.from({ length: 19 }, (_, k): TestedHeat => {
      const ref = `U${k}`;
      const seen = { ...heat(ref), shown: [false, true] as const };
      return { heat: seen, division: fed, untested: null, test: { kind: "one", sigmas: 0, doubt: null } };
    });
    const judged = judgeHeat([lone, ...others], 0.02);
    expect([judged[0]!.change, judged[0]!.together]).toEqual(["persisted", undefined]);
    expect(judged[0]!.pValue!).toBeLessThan(0.0014);
    expect(judgeHeat([lone], 0.02)[0]!.change).toBe("cooler");
  });

  it("beside a part that takes more, does not call another one cooler for its smaller share", () => {
    const fed: Division = { ...PLAIN, by: "fed", factor: 2, logSigma: 0 };
    const [fault, warm] = judgeHeat([both("C6", Math.log(5), 0.1, fed), both("U1", 0.05, 0.1, fed)], 0.05);
    expect([fault!.change, warm!.change]).toEqual(["hotter", "persisted"]);
    // Alone it is half as hot for each watt that was fed in.
    expect(judgeHeat([both("U1", 0.05, 0.1, fed)], 0.05)[0]!.change).toBe("cooler");
  });

  it("with heat that went, calls hotter only what is so per watt and as it is", () => {
    const fed: Division = { ...PLAIN, by: "fed", factor: 0.25, logSigma: 0 };
    const alone = { ...heat("C6").match, after: null };
    const gone: TestedHeat = {
      heat: { ...heat("C6"), match: alone, shown: [true, false] },
      division: fed,
      untested: null,
      test: { kind: "one", sigmas: 8, doubt: null },
    };
    const [same, first] = judgeHeat([both("U1", 0.05, 0.1, fed), gone], 0.05);
    expect(first!.change).toBe("gone");
    expect(first!.z).toBe(-8);
    expect(same!.change).toBe("persisted");
    // Without it, the same part is four times as hot for each watt that was fed in.
    expect(judgeHeat([both("U1", 0.05, 0.1, fed)], 0.05)[0]!.change).toBe("hotter");
  });

  it("a part of which nothing can be told is none that changed: another is judged by the power alone", () => {
    const fed: Division = { ...PLAIN, by: "fed", factor: 2, logSigma: 0.05 };
    const untold: TestedHeat = {
      ...both("C7", 0, 1, fed),
      heat: { ...heat("C7"), bothSeen: false, shown: [false, true] },
      test: { kind: "one", sigmas: null, doubt: null },
    };
    // As warm as before with twice the power: cooler per watt.
    expect(judgeHeat([untold, both("C6", 0, 0.05, fed)], 0.05).map(({ change }) => change)).toEqual([
      "unsure",
      "cooler",
    ]);
  });
});
