import { describe, expect, it } from "vitest";
import { attemptLikelihood, missChance, UNNAMED } from "../../../src/evidence/attempt-likelihood.js";
import { EVIDENCE_DEFAULTS, type EvidenceFigures } from "../../../src/evidence/evidence-defaults.js";
import { type SeenAttempt, seeAttempt } from "../../../src/evidence/seen-attempt.js";
import { temperAttempts } from "../../../src/evidence/temper-attempts.js";
import { makeJob, type Telling } from "./make-job.js";

const see = (telling: Telling, number = 1, state = 0): SeenAttempt => {
  const { findings } = makeJob([{ attempt: telling }]).attempts[0]!;
  const { side = "top", view = side } = telling;
  return seeAttempt(
    findings,
    { number, seq: number, state, board: "main", sides: [side], viewKey: view, placed: true },
    new Set(),
  );
};
const key = (ref: string) => `main\n${ref}`;
const priors = new Map([
  ...["C7", "U3", "L2", "U9"].map((ref) => [key(ref), 0.235] as const),
  [UNNAMED, 0.04],
]);
const FULL = { place: 1, presence: 1 };
const likelihood = (telling: Telling, o: Partial<EvidenceFigures> = {}, off = "") =>
  attemptLikelihood(
    see(telling),
    FULL,
    priors,
    (name) => name === key(off),
    () => null,
    () => 1,
    {
      ...EVIDENCE_DEFAULTS,
      wrongPlace: 0,
      ...o,
    },
  );

describe("attemptLikelihood", () => {
  it("takes the prior out of the attempt's own probabilities", () => {
    const of = likelihood({ heat: [{ C7: 0.6, U3: 0.3 }] }, { missedHeat: 0 });
    expect(of([key("C7")]) / of([key("U3")])).toBeCloseTo(2, 9);
    expect(of([key("C7")])).toBeCloseTo(0.6 / 0.235, 9);
    // Half of the 0.1 that is left is heat at no named place, half is no heat.
    expect(of([UNNAMED])).toBeCloseTo(0.05 / 0.04, 9);
    expect(of([])).toBeCloseTo(0.05, 9);
    expect(of([key("L2")])).toBeCloseTo(0, 9);
  });

  it("pairs two parts with two hotspots, either way round", () => {
    const of = likelihood({ heat: [{ C7: 0.9 }, { U9: 0.8 }] }, { missedHeat: 0, maskedSecond: 0 });
    expect(of([key("C7"), key("U9")])).toBeCloseTo((0.9 * 0.8) / 0.235 ** 2, 9);
    expect(of([key("U9"), key("C7")])).toBe(of([key("C7"), key("U9")]));
    expect(of([key("C7")])).toBeCloseTo((0.9 / 0.235) * 0.1, 9);
    const masked = likelihood({ heat: [{ C7: 0.9 }] }, { missedHeat: 0, maskedSecond: 0.5 });
    expect(masked([key("C7"), key("U9")])).toBeCloseTo((0.25 * 0.9) / 0.235, 9);
  });

  it("pairs three parts with three hotspots in all six ways, or fewer of them with fewer", () => {
    const heat = [
      { C7: 0.5, U9: 0.2 },
      { U9: 0.6, L2: 0.1 },
      { L2: 0.3, C7: 0.3, U9: 0.3 },
    ];
    const all = ["C7", "U9", "L2"].map(key);
    const of = likelihood({ heat }, { missedHeat: 0, maskedSecond: 0 });
    // The permanent of the table of chances, by hand: a row for each hotspot, columns C7, U9, L2.
    const permanent = 0.5 * (0.6 * 0.3 + 0.1 * 0.3) + 0.2 * (0 * 0.3 + 0.1 * 0.3) + 0 * (0 + 0.6 * 0.3);
    expect(of(all)).toBeCloseTo(permanent / 0.235 ** 3, 9);
    // Two hotspots: with nothing missed three parts can't all have made one.
    const two = { heat: heat.slice(0, 2) };
    expect(likelihood(two, { missedHeat: 0, maskedSecond: 0 })(all)).toBe(0);
    const missed = likelihood(two, { missedHeat: 0.1, maskedSecond: 0 })(all);
    // Two parts with both hotspots: 0.5·0.6 + 0·0.2 for C7 and U9, 0.5·0.1 + 0·0 for C7 and L2, 0.2·0.1 + 0.6·0 for U9
    // and L2.
    const pairs = 0.3 + 0.05 + 0.02;
    // One part with one of them, the other (of which 0.3 is none of the named parts) false; half of a rest is no heat.
    const single = (0.5 + 0 + 0.2 + 0.6 + 0 + 0.1) * 0.15;
    expect(missed).toBeCloseTo(
      (0.9 ** 2 * 0.1 * pairs) / 0.235 ** 2 + (0.9 * 0.1 ** 2 * single) / 0.235 + 0.1 ** 3 * 0.15 ** 2,
      9,
    );
    // Masked always, one of the three makes the one hotspot that there is.
    const masked = likelihood({ heat: [{ C7: 0.9 }] }, { missedHeat: 0, maskedSecond: 1 });
    expect(masked(all)).toBeCloseTo(0.9 / 0.235 / 3, 9);
  });

  it("gives what is off to what else lies in its place", () => {
    const of = likelihood({ heat: [{ C7: 0.9, U3: 0.05 }] }, { missedHeat: 0 }, "C7");
    expect(of([key("C7")])).toBe(0);
    expect(of([key("U3")])).toBeCloseTo(0.5 / 0.235, 9);
    expect(of([UNNAMED])).toBeCloseTo(0.25 / 0.04, 9);
  });

  it("holds a part on another board for unseen, and says nothing without a place", () => {
    const of = likelihood({ heat: [] });
    expect(of([])).toBe(1);
    expect(of([key("C7")])).toBeCloseTo(0.05, 9);
    expect(missChance(see({ heat: [] }), "lower\nC7", null, EVIDENCE_DEFAULTS)).toBe(1);
    const nowhere = attemptLikelihood(
      { ...see({ heat: [{ C7: 1 }] }), placed: false },
      FULL,
      priors,
      () => false,
      () => null,
      () => 1,
      EVIDENCE_DEFAULTS,
    );
    expect(nowhere([key("U3")])).toBe(1);
  });
});

describe("missChance", () => {
  it("grows where the heat is fainter than what is found, or hidden, or out of view", () => {
    const chance = (limitW: number | null, expectedW: number) =>
      missChance(see({ heat: [], limitsW: { C7: limitW } }), key("C7"), expectedW, EVIDENCE_DEFAULTS);
    expect(chance(0.01, 1)).toBeCloseTo(0.05, 3);
    // A face in view is found with half the watts that the board around it would show.
    expect(chance(0.2, 0.1)).toBeCloseTo(0.05 + 0.95 / 2, 9);
    expect(chance(5, 0.1)).toBeGreaterThan(0.99);
    expect(chance(null, 1)).toBe(1);
  });
});

describe("temperAttempts", () => {
  const o = EVIDENCE_DEFAULTS;
  const top: Telling = { heat: [{ C7: 0.9, U3: 0.1 }], side: "top" };

  it("counts n attempts of one view as n/(1 + (n − 1)·r)", () => {
    const weights = temperAttempts([see(top, 1), see(top, 2), see(top, 3)], o);
    for (const { place, presence } of weights) {
      expect(place).toBeCloseTo(1 / (1 + 2 * 0.8), 6);
      expect(presence).toBeCloseTo(1 / (1 + 2 * 0.8), 9);
    }
  });

  it("counts other sides more than other camera positions, and other answers in full", () => {
    const second = (more: Partial<Telling>) =>
      temperAttempts([see(top, 1), see({ ...top, ...more }, 2)], o)[1]!.place;
    expect(second({ view: "again" })).toBeCloseTo(1 / 1.4, 6);
    expect(second({ side: "bottom" })).toBeCloseTo(1 / 1.15, 6);
    expect(second({ heat: [{ L2: 1 }] })).toBeCloseTo(1, 9);
  });

  it("shares errors about whether there is heat within one state of the board alone", () => {
    const [, later] = temperAttempts([see(top, 1), see(top, 2, 1)], o);
    expect(later!.presence).toBe(1);
    expect(later!.place).toBeCloseTo(1 / 1.8, 6);
  });
});
