import { describe, expect, it } from "vitest";
import { placeView } from "../../../src/board/place-view.js";
import { boardPoint } from "../../../src/core/units.js";
import { askQuestions } from "../../../src/findings/ask-question.js";
import type { Hotspot } from "../../../src/findings/findings-schema.js";
import type { HotspotSeed } from "../../../src/findings/measure-hotspot.js";
import type { BoardView } from "../../../src/findings/seen-view.js";
import type { Candidate } from "../../../src/sources/source-model.js";
import { BOARD, VIEW } from "./make-attempt.js";

const context = {
  board: {
    ...BOARD,
    regions: BOARD.regions.map((region) =>
      region.ref === "C1" ? { ...region, nets: ["V3", "GND"], emissivity: 0.2, finish: undefined } : region,
    ),
  },
  view: placeView(VIEW),
};
const view = (name: BoardView["name"], side: "top" | "bottom") =>
  ({
    name,
    pair: { alignment: { trusted: true }, burst: {} },
    placed: { ...context, view: { ...context.view, side } },
  }) as BoardView;
const alone = [view("primary", "top")];

function candidate(ref: string | null, at: readonly [number, number], normallyWarm = false): Candidate {
  const region = BOARD.regions.findIndex((r) => r.ref === ref);
  return { ref, region, at: boardPoint(at[0], at[1]), side: "top", normallyWarm } as Candidate;
}

/** A seed with the chances of its parts, the chance of a mirror and of heat, and a free place if there is one. */
function seed(
  chances: Readonly<Record<string, number>>,
  mirrorChance: number,
  heatChance: number,
  free: readonly [number, number] | null,
  normallyWarm = false,
): HotspotSeed {
  const weighed = Object.entries(chances).map(([ref, probability]) => ({
    candidate: candidate(ref, [30.8, 5.4], normallyWarm),
    probability,
  }));
  const alternatives = free === null ? [] : [{ candidate: candidate(null, free), loss: 1 }];
  const source = { candidate: weighed[0]!.candidate, mirrorChance, heatChance, alternatives };
  return { patch: null, source: source as unknown as HotspotSeed["source"], weighed };
}

const hotspot = {
  rank: 3,
  sourcePx: [92.6, 29.2],
  sourceMm: [30.9, 5.3],
  widthPx: 5,
  significance: 44,
} as unknown as Hotspot;
const allOf = (views: readonly BoardView[], ...seeds: HotspotSeed[]) =>
  askQuestions(
    views,
    seeds,
    seeds.map((_, i) => ({ ...hotspot, rank: hotspot.rank + i })),
  );
const askOf = (views: readonly BoardView[], one: HotspotSeed) => allOf(views, one)[0]!.question;
const ask = (one: HotspotSeed) => askOf(alone, one);

describe("askQuestions", () => {
  it("the parts in question, with place, size, nets and finish from the map", () => {
    const { hypotheses } = ask(seed({ C1: 0.7, C2: 0.3 }, 0, 1, null));
    expect(hypotheses.map(({ ref, probability }) => [ref, probability])).toEqual([
      ["C1", 0.7],
      ["C2", 0.3],
    ]);
    expect(hypotheses[0]).toMatchObject({ side: "top", at: [30.8, 5.4], nets: ["V3", "GND"], shiny: true });
    // 1.6 × 0.9 mm²: a disc of that area has a radius of √(1.44/π) = 0.677 mm.
    expect(hypotheses[0]!.radiusMm).toBeCloseTo(0.677, 3);
    expect(hypotheses[1]).toMatchObject({ nets: [], shiny: false });
  });

  it("what is not a part's is split into mirror, doubt and a place without a name; all sum to 1", () => {
    const { hypotheses } = ask(seed({ C1: 0.5 }, 0.1, 0.7, [12.2, 8.1]))!;
    const by = Object.fromEntries(hypotheses.map((h) => [h.kind, h]));
    expect(by["mirror"]!.probability).toBeCloseTo(0.1, 12);
    expect(by["doubt"]!.probability).toBeCloseTo(0.2, 12);
    expect(by["unnamed"]!.probability).toBeCloseTo(0.2, 12);
    expect(by["unnamed"]!.at).toEqual([12.2, 8.1]);
    expect(hypotheses.reduce((sum, { probability }) => sum + probability, 0)).toBeCloseTo(1, 12);
  });

  it("without a free place the rest is doubt", () => {
    const { hypotheses } = ask(seed({ C1: 0.5 }, 0.1, 0.7, null));
    expect(hypotheses.map(({ kind }) => kind)).toEqual(["part", "mirror", "doubt"]);
    expect(hypotheses[2]!.probability).toBeCloseTo(0.4, 12);
  });

  it("a question for each hotspot, by its rank; none for one that is warm anyway", () => {
    const settled = seed({ C2: 0.99 }, 0, 0.99, null);
    const warm = seed({ U1: 0.5, U2: 0.5 }, 0, 1, null, true);
    const open = seed({ C1: 0.5, Q1: 0.5 }, 0, 1, null);
    const asked = allOf(alone, settled, warm, open);
    expect(asked.map(({ rank, question }) => [rank, question.hypotheses[0]!.ref])).toEqual([
      [3, "C2"],
      [5, "C1"],
    ]);
    expect(allOf(alone, warm)).toEqual([]);
  });

  it("how it was seen: 5 px of 1/2.7 mm, 44 times above the noise, in a burst", () => {
    const question = ask(seed({ C1: 0.9 }, 0, 1, null));
    expect(question).toMatchObject({
      viewSide: "top",
      significance: 44,
      aligned: true,
      isBurst: true,
      isCycled: false,
    });
    expect(question.bothSides).toBe(false);
    expect(question.mmPerPx).toBeCloseTo(1 / 2.7, 6);
    expect(question.widthMm).toBeCloseTo(5 / 2.7, 6);
  });

  it("with two views: the side of the one that shows it, and whether both sides have been seen", () => {
    const there: HotspotSeed = { ...seed({ C1: 0.9 }, 0, 1, null), view: "other" };
    const both = [...alone, view("other", "bottom")];
    expect(askOf(both, there)).toMatchObject({ viewSide: "bottom", bothSides: true });
    expect(askOf(both, seed({ C1: 0.9 }, 0, 1, null))).toMatchObject({ viewSide: "top", bothSides: true });
    expect(askOf([...alone, view("other", "top")], there)).toMatchObject({
      viewSide: "top",
      bothSides: false,
    });
  });
});
