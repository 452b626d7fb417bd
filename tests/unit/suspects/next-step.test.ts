import { describe, expect, it } from "vitest";
import { chooseNextStep, type FrameDoubt, type NextStepInput } from "../../../src/suspects/next-step.js";
import type { OpenQuestion } from "../../../src/suspects/open-question.js";
import { type NothingFound, whereToLook } from "../../../src/suspects/where-to-look.js";
import { NEAR, part, rest } from "./open-question.js";

const NOTHING: NothingFound = {
  viewSide: "top",
  bothSides: false,
  fedW: null,
  smallestW: null,
  reflections: 0,
  shinyShare: 0.05,
  shiniest: null,
};
const SURE: OpenQuestion = {
  ...NEAR,
  hypotheses: [part("U7", 0.91, [20, 11]), part("C12", 0.05, [21, 12]), rest("doubt", 0.04)],
};
const SETTLED: NextStepInput = {
  doubt: null,
  boardKnown: true,
  hotspots: 1,
  aligned: true,
  strange: null,
  unmapped: null,
  faults: [{ rank: 1, question: SURE }],
  named: ["U7"],
  nothing: NOTHING,
};
const asked = (...questions: OpenQuestion[]): Pick<NextStepInput, "faults"> => ({
  faults: questions.map((question, i) => ({ rank: i + 1, question })),
});
const step = (change: Partial<NextStepInput>) => chooseNextStep({ ...SETTLED, ...change });
const look = (change: Partial<NothingFound>) => whereToLook({ ...NOTHING, ...change }).sentence;

describe("chooseNextStep", () => {
  it("settled: the reading before anything is lifted, with what it is expected to tell", () => {
    const { sentence, gainBits } = step({});
    expect(sentence).toBe(
      "Before lifting U7, read its power pins to ground with the supply off and compare with a good board.",
    );
    expect(gainBits).toBeGreaterThan(0.1);
    expect(gainBits).toBeLessThan(0.6);
  });

  it("open: what parts the two", () => {
    expect(step(asked(NEAR)).sentence).toContain("U7 and C12");
  });

  it("what changed most and is on no part of the map is looked at", () => {
    const unmapped = { at: [40.26, 13.6] as const, side: "top" as const, riseK: 6.749, behind: null };
    const { sentence, gainBits } = step({ unmapped, faults: [] });
    expect(sentence).toMatch(
      /^Look what lies at 40\.3, 13\.6 mm on the top side, add it to the board map .*\(6\.7 K\)/,
    );
    expect(gainBits).toBeNull();
    // What is found is measured as well.
    expect(step({ unmapped }).sentence).toBe(`${step({}).sentence} ${sentence}`);
    expect(step({ unmapped }).unmapped).toBe(sentence);
    expect(step({ unmapped, faults: [] }).unmapped).toBe(sentence);
    expect([step({}).unmapped, step({ unmapped, aligned: false }).unmapped]).toEqual([undefined, undefined]);
    expect(step({ unmapped, aligned: false }).sentence).toMatch(/could not be aligned\.$/);
    const over = step({ unmapped: { ...unmapped, behind: "C14" }, faults: [] }).sentence;
    expect(over).toMatch(
      /^Capture the bottom side too: .* over C14, and was taken for something mirrored\.$/,
    );
  });

  it("a change that is neither heat in this board nor a person mirrored is told from either by tape over it", () => {
    const strange = { px: [68, 44] as const, riseK: 22 };
    const shown = step({ strange, hotspots: 0, faults: [] });
    expect(shown.sentence).toMatch(/^Put matte tape on what lies at pixel \(68, 44\) and capture again: /);
    expect(shown.gainBits).toBeNull();
    // Where something is found, the verdict speaks of that.
    expect(step({ strange }).sentence).toBe(step({}).sentence);
    expect(step({ strange, faults: [] }).sentence).not.toBe(shown.sentence);
  });

  it("frames that could not be aligned come before all else", () => {
    const { sentence, gainBits } = step({ aligned: false, ...asked(NEAR) });
    expect(sentence).toContain("without touching board or camera");
    expect(gainBits).toBeNull();
    // A map would not help them.
    expect(step({ aligned: false, boardKnown: false, faults: [] }).sentence).toBe(sentence);
    const still = { aligned: false, boardKnown: false, faults: [], hotspots: 0 };
    expect(step({ ...still, nothing: { ...NOTHING, viewSide: null } }).sentence).not.toBe(sentence);
  });

  it("frames that are themselves in doubt come first where nothing has been named, and only there", () => {
    const doubted = (doubt: FrameDoubt): string => step({ doubt, boardKnown: false, faults: [] }).sentence;
    expect(doubted("same")).toContain("not the baseline too");
    expect(doubted("swapped")).toContain("which frame was taken with power");
    expect(doubted("everything")).toContain("unit and scale");
    expect(step({ doubt: "swapped" })).toEqual(step({}));
  });

  it("without a board: the map", () => {
    expect(step({ boardKnown: false, faults: [] }).sentence).toContain("a map and a view in files");
    const nothing = { ...NOTHING, viewSide: null };
    expect(step({ boardKnown: false, faults: [], hotspots: 0, nothing }).sentence).toMatch(
      /the other side|nominal voltage/,
    );
  });

  it("no fault, or none of the named parts: where to look", () => {
    expect(step({ faults: [] }).sentence).toMatch(/current|other side|bottom side/);
    expect(step(asked({ ...NEAR, hypotheses: [rest("doubt", 1)] })).sentence).toBe(look({}));
  });

  it("heat where the map names nothing: the place", () => {
    const hypotheses = [part("U7", 0.2, [20, 11]), rest("unnamed", 0.8)];
    expect(step(asked({ ...NEAR, hypotheses })).sentence).toContain("at 20.4, 11.1 mm on the top side");
  });

  it("where nothing can part two suspects, the first is measured", () => {
    const nets = ["VSYS"];
    const hypotheses = [part("U7", 0.5, [20, 11], { nets }), part("SH1", 0.5, [20, 11], { nets })];
    expect(step(asked({ ...NEAR, hypotheses })).sentence).toContain("Before lifting U7");
  });
});

describe("several faults", () => {
  const weak = (probability: number, at: readonly [number, number] = [40, 30]): OpenQuestion => ({
    ...NEAR,
    hypotheses: [
      part("R5", probability, at),
      part("R6", 0.97 - probability, [at[0] + 1.2, at[1] + 0.9]),
      rest("doubt", 0.03),
    ],
  });

  it("once a camera can do no more, what the verdict names first is measured first, however open the others are", () => {
    // R5 is less settled than U7, and the verdict leaves it out.
    const alone: OpenQuestion = { ...NEAR, hypotheses: [part("R5", 0.86, [40, 30]), rest("doubt", 0.14)] };
    expect(step(asked(SURE, alone))).toEqual(step({}));
    expect(step({ ...asked(SURE, alone), named: ["R5", "U7"] }).sentence).toBe(
      "Before lifting R5, read its power pins to ground with the supply off and compare with a good board.",
    );
  });

  it("a look that is about a part which the verdict leaves out says why it is about that one", () => {
    const { sentence } = step(asked(SURE, weak(0.6)));
    expect(sentence).toMatch(
      / Of what heats, hotspot 2 is the least settled; its likeliest source is R5 \(60 %\)\.$/,
    );
    // Named parts need no reason.
    expect(step({ ...asked(SURE, weak(0.6)), named: ["U7", "R5"] }).sentence).not.toContain("least settled");
  });

  it("a named part of little chance beside it is no reason to leave the reason out, one that is spoken of is", () => {
    const beside = { ...weak(0.6), hypotheses: [...weak(0.6).hypotheses, part("U7", 0.02, [60, 30])] };
    const reason = / least settled; its likeliest source is R5 /;
    expect(step(asked(SURE, beside)).sentence).toMatch(reason);
    const { sentence } = step({ ...asked(SURE, weak(0.6)), named: ["U7", "R6"] });
    expect(sentence).toContain("R5 and R6");
    expect(sentence).not.toMatch(reason);
    // R6 is another part than R60.
    expect(step({ ...asked(SURE, weak(0.6)), named: ["R", "R60"] }).sentence).toMatch(reason);
  });

  it("where the least settled fault has no part, what the verdict names is measured, and else it is said where to look", () => {
    const nameless = { ...NEAR, hypotheses: [rest("doubt", 0.5), rest("unnamed", 0.5)] };
    expect(step(asked(SURE, nameless))).toEqual(step({}));
    expect(step({ ...asked(SURE, nameless), named: [] }).sentence).toBe(look({}));
    // Of no named part the nameless one is not the likeliest either.
    const faint = { ...NEAR, hypotheses: [part("R5", 0.5, [40, 30]), part("R7", 0.5, [40, 30])] };
    const sure = { ...NEAR, hypotheses: [rest("doubt", 1)] };
    expect(step({ ...asked(sure, faint), named: [] }).sentence).toMatch(/^Before lifting R5/);
  });

  it("where the verdict names nobody the likeliest part is told with its chance", () => {
    const question = { ...NEAR, hypotheses: [part("R5", 0.15, [40, 30]), rest("doubt", 0.85)] };
    expect(step({ ...asked(question), named: [] }).sentence).toMatch(
      / Of the named parts R5 \(15 %\) is the likeliest\.$/,
    );
  });
});

describe("whereToLook", () => {
  it("little power: more of it, with both numbers", () => {
    const said = look({ fedW: 0.011, smallestW: 0.0062 });
    expect(said).toContain("Raise the current in small steps below the rail's nominal voltage");
    expect(said).toContain("11 mW went in");
    expect(said).toContain("6.2 mW to be found");
  });

  it("enough power: the other side, since on this one it would have been found", () => {
    const said = look({ fedW: 0.9, smallestW: 0.0062 });
    expect(said).toContain("Capture the bottom side: 0.90 W went in");
    expect(said).toContain("6.2 mW would have been found");
    expect(look({ fedW: 0.9, smallestW: 0.0062, viewSide: "bottom" })).toContain("Capture the top side");
  });

  it("reflections: tape on the part that hides most", () => {
    expect(look({ reflections: 2, shiniest: "SH1" })).toMatch(/^Put matte tape on SH1 /);
    expect(look({ reflections: 2 })).toMatch(/^Put matte tape on the shiny parts/);
    expect(look({ fedW: 0.9, smallestW: 0.01, bothSides: true, shiniest: "SH1", shinyShare: 0.5 })).toMatch(
      /^Put matte tape on SH1 /,
    );
  });

  it("never more than the rail's nominal voltage, and one sentence", () => {
    for (const fedW of [null, 0, 0.01, 3]) {
      for (const reflections of [0, 1]) {
        for (const bothSides of [false, true]) {
          const said = look({ fedW, smallestW: fedW === null ? null : 0.02, reflections, bothSides });
          if (/current|supply on/.test(said)) expect(said).toContain("below the rail's nominal voltage");
          expect(said).toMatch(/^[A-Z].*\.$/);
          expect(said.slice(0, -1)).not.toMatch(/\.\s|NaN|undefined|null/);
        }
      }
    }
  });
});
