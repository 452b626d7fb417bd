import { describe, expect, it } from "vitest";
import type { BoardMap } from "../../../src/board/board-schema.js";
import { CandidatePool } from "../../../src/sources/candidate-pool.js";
import { knownHeatErrors } from "../../../src/sources/known-heat-errors.js";
import { PLATE_STATES } from "../../../src/sources/plate-state.js";
import { ProjectedFit } from "../../../src/sources/projected-fit.js";
import { makeRandom } from "../../simulate/random.js";
import { denseOf } from "./dense-column.js";
import { BOARD } from "./relaxed-plate.js";
import { levelColumns, modelOf, partOf } from "./small-model.js";

const warm = (ref: string): BoardMap => ({
  ...BOARD,
  regions: BOARD.regions.map((region) => (region.ref === ref ? { ...region, normallyWarm: true } : region)),
});
const model = modelOf(warm("U2"));
const state = PLATE_STATES.find(({ kind, lengthMm }) => kind === "steady" && lengthMm === 18)!;
const [u2, c2] = [partOf(model, "U2"), partOf(model, "C2")];
const NOISE_K = 0.04;
const variance = new Float32Array(model.size).fill(NOISE_K ** 2);
const level = levelColumns(model, 0.3);

/** 0.3 W in U2 whose body is 3 K warmer than the board, and what else is added, given that rise. */
function riseOf(more: (u2K: number, i: number) => number): Float32Array {
  const random = makeRandom("known heat");
  const plate = denseOf(model.plateColumn(u2, state), model.size);
  const body = denseOf(u2.body!, model.size);
  return Float32Array.from(plate, (value, i) => {
    const u2K = 0.3 * value + 3 * body[i]!;
    return u2K + more(u2K, i) + NOISE_K * random.normal();
  });
}

/** Evidence for C2 beside U2, without the errors of U2's heat and with them. */
function evidence(rise: Float32Array): { readonly plain: number; readonly known: number } {
  const weigh = (pool: CandidatePool) => pool.fitSet([u2, c2]).gain - pool.fitSet([u2]).gain;
  const pool = new CandidatePool(model, new ProjectedFit(rise, variance, level), state);
  const errors = knownHeatErrors(model, state, [u2], pool.fitSet([u2]), NOISE_K);
  const fit = new ProjectedFit(rise, variance, [...level, ...errors]);
  return { plain: weigh(pool), known: weigh(new CandidatePool(model, fit, state)) };
}

/** Candidates fitted to frames in which nothing warms. */
function coldPool(): CandidatePool {
  const rise = riseOf(() => 0);
  return new CandidatePool(model, new ProjectedFit(rise, variance, level), state);
}

describe("knownHeatErrors", () => {
  it("C2's finish being 4 % brighter than stated is no heat of C2", () => {
    const face = denseOf(c2.body!, model.size);
    const { plain, known } = evidence(riseOf((u2K, i) => 0.04 * u2K * face[i]!));
    expect(plain).toBeGreaterThan(25);
    expect(known).toBeLessThan(0.3 * plain);
  });

  it("C2's own heat, many times what its finish can make, keeps its evidence", () => {
    const [plate, face] = [model.plateColumn(c2, state), c2.body!].map((one) => denseOf(one, model.size));
    const { known } = evidence(riseOf((_, i) => 0.03 * (plate![i]! + 40 * face![i]!)));
    expect(known).toBeGreaterThan(100);
  });

  it("are asked of the parts that warm on a healthy board alone", () => {
    const pool = coldPool();
    expect(knownHeatErrors(model, state, [c2], pool.fitSet([c2]), NOISE_K)).toEqual([]);
    expect(knownHeatErrors(model, state, [u2], pool.fitSet([u2]), NOISE_K).length).toBeGreaterThan(10);
  });

  it("are nothing beside little heat", () => {
    const pool = coldPool();
    expect(knownHeatErrors(model, state, [u2], pool.fitSet([u2]), 10)).toEqual([]);
  });
});
