import { describe, expect, it } from "vitest";
import { WEIGH_DEFAULTS, weighAlternatives } from "../../../src/suspects/weigh-alternatives.js";

const isNamed = (candidate: string) => candidate !== "free";
const weigh = (losses: readonly (readonly [string, number])[], heat = 1, options = {}) =>
  weighAlternatives(
    losses.map(([candidate, loss]) => ({ candidate, loss })),
    isNamed,
    heat,
    options,
  );
const sumOf = (weighed: readonly { probability: number }[]) =>
  weighed.reduce((sum, { probability }) => sum + probability, 0);

describe("weighAlternatives", () => {
  it("Bayes by hand: odds of two parts are exp(−loss/2) where the evidence is taken as it is", () => {
    const weighed = weigh(
      [
        ["U1", 0],
        ["U2", 2],
        ["free", 1],
      ],
      0.9,
      { temper: 1, freePrior: 0.1 },
    );
    // Priors 0.45, 0.45 and 0.1; likelihoods 1, e^(−1), e^(−1/2).
    const weights = [0.45, 0.45 * Math.exp(-1), 0.1 * Math.exp(-0.5)];
    const total = weights[0]! + weights[1]! + weights[2]!;
    expect(weighed.map((w) => w.candidate)).toEqual(["U1", "U2"]);
    expect(weighed[0]!.probability).toBeCloseTo((0.9 * weights[0]!) / total, 14);
    expect(weighed[1]!.probability).toBeCloseTo((0.9 * weights[1]!) / total, 14);
    expect(1 - sumOf(weighed)).toBeCloseTo(0.1 + (0.9 * weights[2]!) / total, 14);
  });

  it("equal losses: equal chances, in the order given", () => {
    const weighed = weigh([
      ["C3", 0],
      ["C1", 0],
      ["C2", 0],
    ]);
    expect(weighed.map((w) => w.candidate)).toEqual(["C3", "C1", "C2"]);
    for (const { probability } of weighed) expect(probability).toBeCloseTo(1 / 3, 14);
  });

  it("one part that explains far better takes all that heat may take", () => {
    const weighed = weigh(
      [
        ["U1", 0],
        ["U2", 5000],
        ["free", 5000],
      ],
      0.97,
    );
    expect(weighed[0]!.probability).toBeCloseTo(0.97, 12);
    expect(weighed[1]!.probability).toBe(0);
  });

  it("a free place that explains far better leaves the parts with nothing", () => {
    expect(
      sumOf(
        weigh([
          ["free", 0],
          ["U1", 800],
        ]),
      ),
    ).toBeLessThan(1e-9);
  });

  it("free places share one prior: more of them are no more likely together", () => {
    const one = weigh([
      ["U1", 0],
      ["free", 0],
    ]);
    const many = weigh([["U1", 0], ...Array.from({ length: 7 }, () => ["free", 0] as const)]);
    expect(many[0]!.probability).toBeCloseTo(one[0]!.probability, 14);
    expect(one[0]!.probability).toBeCloseTo(1 - WEIGH_DEFAULTS.freePrior, 14);
  });

  it("no chance of heat: nobody is suspected; no alternatives: an empty list", () => {
    expect(sumOf(weigh([["U1", 0]], 0))).toBe(0);
    expect(weigh([])).toEqual([]);
  });

  it("only free places: no named part, and the whole is rest", () => {
    expect(weigh([["free", 0]])).toEqual([]);
  });
});
