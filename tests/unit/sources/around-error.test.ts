import { describe, expect, it } from "vitest";
import { aroundError } from "../../../src/sources/around-error.js";
import { addColumn } from "../../../src/sources/column.js";
import { withoutHeat } from "../../../src/sources/doubtful-faces.js";
import { FIT_DEFAULTS } from "../../../src/sources/fit-defaults.js";
import { type HeatJudge, heatLogOddsInSet } from "../../../src/sources/heat-log-odds.js";
import { ProjectedFit } from "../../../src/sources/projected-fit.js";
import { makeRandom } from "../../simulate/random.js";
import { levelColumns, modelOf, partOf, statePools } from "./small-model.js";

const notByHill = () => false;
const NOISE_K = 0.04;
const model = modelOf();
const state = model.firstState;
const u1 = partOf(model, "U1");
const others = ["U2", "C1", "C2", "Q1"].map((ref) => partOf(model, ref));

/** U1 changed as a weak source would, with an error of watts of 2 mW. @param aroundW watts that the board around other
 *  parts shows, of either sign. */
function judgeOf(aroundW: number): HeatJudge {
  const random = makeRandom("around");
  const rise = Float32Array.from({ length: model.size }, () => NOISE_K * random.normal());
  addColumn(rise, model.plateColumn(u1, state), 0.012);
  addColumn(rise, u1.body!, 0.2);
  for (const [k, one] of others.entries()) {
    addColumn(rise, model.plateColumn(one, state), (k % 2 === 0 ? 1 : -1) * aroundW);
  }
  const variance = new Float32Array(model.size).fill(NOISE_K ** 2);
  const fit = new ProjectedFit(rise, variance, levelColumns(model, 0.3));
  const pools = statePools(model, fit);
  const pool = pools.find((one) => one.pool.state === state)!.pool;
  return {
    model,
    pool,
    pools: () => pools,
    scale: 900,
    room: () => ({ roomK: 1, warmerChance: 0.5 }),
    options: FIT_DEFAULTS,
  };
}

const weights = [{ stands: true, share: 1, bodyStep: 1, evidence: 100 }];

describe("aroundError", () => {
  it("is one where the board around other parts shows noise", () => {
    expect(aroundError(judgeOf(0), [u1])).toBeLessThan(1.5);
  });

  it("is as much larger as what the board around other parts shows", () => {
    expect(aroundError(judgeOf(0.006), [u1])).toBeGreaterThan(2);
  });

  it("does not ask parts that heat, nor without other parts", () => {
    const all = model.candidates;
    expect(aroundError(judgeOf(0.006), all)).toBe(1);
  });
});

describe("withoutHeat", () => {
  it("lets a part heat that no other part's surroundings speak against", () => {
    const judge = judgeOf(0);
    expect(heatLogOddsInSet(judge, u1, [u1])).toBeGreaterThan(FIT_DEFAULTS.aloneHeatOdds);
    expect(withoutHeat(judge, [u1], weights, notByHill)).toBe(null);
  });

  it("takes it for a mirror where the board around parts that don't heat shows as much", () => {
    const judge = judgeOf(0.006);
    expect(heatLogOddsInSet(judge, u1, [u1])).toBeGreaterThan(FIT_DEFAULTS.aloneHeatOdds);
    expect(withoutHeat(judge, [u1], weights, notByHill)?.map(({ kind }) => kind)).toEqual(["mirror"]);
  });
});
