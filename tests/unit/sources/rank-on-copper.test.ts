import { describe, expect, it } from "vitest";
import type { BoardMap } from "../../../src/board/board-schema.js";
import { framePoint } from "../../../src/core/units.js";
import { CandidatePool } from "../../../src/sources/candidate-pool.js";
import { PLATE_STATES } from "../../../src/sources/plate-state.js";
import { ProjectedFit } from "../../../src/sources/projected-fit.js";
import { rankAlternatives } from "../../../src/sources/rank-alternatives.js";
import { CopperRanking } from "../../../src/sources/rank-on-copper.js";
import { makeRandom } from "../../simulate/random.js";
import { BOARD, type Copper, relaxPlate } from "./relaxed-plate.js";
import { levelColumns, modelOf, partOf } from "./small-model.js";

const NOISE_K = 0.04;
/** All on the far side: U1 heats, and at its centre lies another of half its length and width. */
const [u1, ...others] = BOARD.regions.map((region) => ({ ...region, side: "bottom" as const }));
const CENTRE = [11, 7.5] as const;
const smaller: BoardMap["regions"][number] = {
  ...u1!,
  ref: "U8",
  polygon: u1!.polygon.map(([x, y]) => [0.5 * (x + CENTRE[0]), 0.5 * (y + CENTRE[1])]),
};
const board: BoardMap = { ...BOARD, regions: [u1!, smaller, ...others] };
const model = modelOf(board);
const state = PLATE_STATES.find(({ kind, lengthMm }) => kind === "steady" && lengthMm === 18)!;

/** What the camera shows of heat in U1, 20 mW, behind the board. */
function shownOn(copper: Copper | undefined, seed: string): Float32Array {
  const { rise, columns, rows } = relaxPlate({ U1: 0.02 }, copper);
  const random = makeRandom(seed);
  const out = Float32Array.from({ length: model.size }, () => NOISE_K * random.normal());
  const { view, seen } = model.pictures[0]!;
  for (const pixel of seen.pixels) {
    const [x, y] = view.toBoard(framePoint(pixel % seen.width, Math.floor(pixel / seen.width)));
    const column = Math.max(0, Math.min(columns - 1, Math.floor((x * columns) / 40)));
    const row = Math.max(0, Math.min(rows - 1, Math.floor((y * rows) / 24)));
    out[pixel]! += seen.shown[pixel]! * rise[row * columns + column]!;
  }
  return out;
}

/** What U1 loses against the best of all parts, copper taken for even, and left free. */
function lossesOn(copper: Copper | undefined, seed: string) {
  const variance = new Float32Array(model.size).fill(NOISE_K ** 2);
  const fit = new ProjectedFit(shownOn(copper, seed), variance, levelColumns(model, 0.1));
  const pool = new CandidatePool(model, fit, state);
  const loss = (ranked: ReturnType<typeof rankAlternatives>) =>
    ranked.find(({ candidate }) => candidate.ref === "U1")!.loss;
  return {
    even: loss(rankAlternatives(pool, model.candidates, [], 1)),
    free: loss(new CopperRanking({ model, pool, scale: 1 }).rank(model.candidates, [])),
  };
}

describe("CopperRanking", () => {
  it("finds the part behind the board though thin copper makes its hill as steep as that of a smaller one", () => {
    const losses = lossesOn(
      (x, y) => (Math.hypot(x - CENTRE[0], y - CENTRE[1]) < 6 ? 0.4 : 1),
      "thin copper",
    );
    expect(losses.even).toBeGreaterThan(100);
    expect(losses.free).toBe(0);
  }, 60_000);

  it("and on even copper, too", () => {
    expect(lossesOn(undefined, "even copper")).toEqual({ even: 0, free: 0 });
  }, 60_000);

  it("of candidates that copper can't turn round tells what even copper does", () => {
    const variance = new Float32Array(model.size).fill(NOISE_K ** 2);
    const fit = new ProjectedFit(shownOn(undefined, "even"), variance, levelColumns(model, 0.1));
    const pool = new CandidatePool(model, fit, state);
    const far = [partOf(model, "U1"), partOf(model, "U2"), partOf(model, "C2")];
    expect(new CopperRanking({ model, pool, scale: 1 }).rank(far, [])).toEqual(
      rankAlternatives(pool, far, [], 1),
    );
  });

  it("gives a better part only where that brings what it must, and none for a part that is not asked for", () => {
    const thin: Copper = (x, y) => (Math.hypot(x - CENTRE[0], y - CENTRE[1]) < 6 ? 0.4 : 1);
    const variance = new Float32Array(model.size).fill(NOISE_K ** 2);
    const fit = new ProjectedFit(shownOn(thin, "thin copper"), variance, levelColumns(model, 0.1));
    const ranking = new CopperRanking({ model, pool: new CandidatePool(model, fit, state), scale: 1 });
    const [right, wrong] = [partOf(model, "U1"), partOf(model, "U8")];
    const asked: unknown[] = [];
    const wanting = (evidence: number) => (one: unknown, others: readonly unknown[]) => {
      asked.push([one, others]);
      return evidence;
    };
    expect(ranking.better(model.candidates, [wrong], wrong, wanting(25))).toBe(right);
    // What it must bring is that of a part beside what is left, not beside the one that goes.
    expect(asked).toEqual([[right, []]]);
    expect(ranking.better(model.candidates, [wrong], wrong, wanting(1e9))).toBeNull();
    expect(ranking.better(model.candidates, [right], right, wanting(25))).toBeNull();
  }, 60_000);
});
