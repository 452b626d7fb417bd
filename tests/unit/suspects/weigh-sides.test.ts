import { describe, expect, it } from "vitest";
import { weighAll, weighAlternatives } from "../../../src/suspects/weigh-alternatives.js";
import { weighSides } from "../../../src/suspects/weigh-sides.js";

const place = (ref: string | null, side: "top" | "bottom", loss: number) => ({
  candidate: { ref, side },
  loss,
});
const isNamed = ({ ref }: { ref: string | null }) => ref !== null;

describe("weighSides", () => {
  it("sums named parts and unnamed places by side, to the chance of heat", () => {
    const all = [
      place("C1", "top", 0),
      place(null, "top", 3),
      place("C9", "bottom", 7),
      place(null, "bottom", 1),
    ];
    const weighed = weighAll(all, isNamed, 0.9);
    const { top, bottom } = weighSides(weighed);
    expect(top).toBeCloseTo(weighed[0]!.probability + weighed[1]!.probability, 12);
    expect(bottom).toBeCloseTo(weighed[2]!.probability + weighed[3]!.probability, 12);
    expect(top + bottom).toBeCloseTo(0.9, 12);
  });

  it("of two named parts the odds are exp(difference of loss ÷ 2 ÷ temper): e² for 8 at a temper of 2", () => {
    const { top, bottom } = weighSides(
      weighAll([place("C1", "top", 0), place("C9", "bottom", 8)], isNamed, 1, { temper: 2 }),
    );
    expect(top / bottom).toBeCloseTo(Math.exp(2), 9);
  });

  it("a side without a candidate, or a hopeless one, keeps a chance that is no more than stated", () => {
    expect(weighSides(weighAll([place("C1", "top", 0)], isNamed, 1))).toEqual({ top: 1, bottom: 1e-6 });
    const hopeless = weighAll([place("C1", "top", 0), place("C9", "bottom", 1e4)], isNamed, 1);
    expect(weighSides(hopeless).bottom).toBe(1e-6);
  });

  it("the named ones of all are those that weighAlternatives gives, most probable first", () => {
    const all = [place("C9", "bottom", 7), place(null, "top", 3), place("C1", "top", 0)];
    const named = weighAlternatives(all, isNamed, 0.8);
    expect(named.map(({ candidate }) => candidate.ref)).toEqual(["C1", "C9"]);
    const whole = weighAll(all, isNamed, 0.8);
    for (const one of named) expect(whole).toContainEqual(one);
  });
});
