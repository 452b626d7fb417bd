import { describe, expect, it } from "vitest";
import { CandidatePool } from "../../../src/sources/candidate-pool.js";
import { onBoardOnly } from "../../../src/sources/picture.js";
import { ProjectedFit } from "../../../src/sources/projected-fit.js";
import { restPowers } from "../../../src/sources/rest-powers.js";
import { randomCopper } from "../../simulate/copper.js";
import { makeRandom } from "../../simulate/random.js";
import { BOARD, type Copper, showRise } from "./relaxed-plate.js";
import { levelColumns, modelOf, partOf } from "./small-model.js";

const WATTS = 0.4;
const NOISE_K = 0.04;

/** Watts of a part by the rise and by the whole board, in a state that is known. */
function powersOf(rise: Float32Array, isAtRest = true) {
  const model = modelOf();
  const state = isAtRest ? model.states.at(-1)! : model.states.find(({ kind }) => kind !== "steady")!;
  const variance = onBoardOnly(new Float32Array(model.size).fill(NOISE_K ** 2), model.pictures);
  const nuisance = levelColumns(model, 0.3);
  const fit = new ProjectedFit(rise, variance, nuisance);
  const set = [partOf(model, "U1")];
  const { powersW, columns, amounts } = new CandidatePool(model, fit, state).fitSet(set);
  const parts = { rise, variance, nuisance, state, scale: 1 };
  return { powerW: powersW[0]!, atRest: restPowers(model, parts, set, fit.heat(columns, amounts)) };
}

function found(copper: Copper, seed: string) {
  const { powerW, atRest } = powersOf(showRise({ U1: WATTS }, NOISE_K, seed, {}, {}, copper).data);
  return { byRise: powerW / WATTS, atRest: atRest![0]!.powerW / WATTS };
}

describe("watts at rest", () => {
  it("on even copper: those of the fit", () => {
    const { byRise, atRest } = found(() => 1, "even");
    expect(Math.abs(byRise - 1)).toBeLessThan(0.06);
    expect(Math.abs(atRest - byRise)).toBeLessThan(0.03);
  });

  it("go less with uneven copper than those of the rise, most of which is close by", () => {
    const errors = Array.from({ length: 10 }, (_, k) => {
      const copper = randomCopper(makeRandom(`copper ${k}`), BOARD.outline);
      return found(copper, `copper ${k}`);
    });
    const off = (one: "byRise" | "atRest") =>
      Math.sqrt(errors.reduce((sum, each) => sum + Math.log(each[one]) ** 2, 0) / errors.length);
    expect(off("byRise")).toBeGreaterThan(0.05);
    expect(off("atRest")).toBeLessThan(0.8 * off("byRise"));
  }, 60_000);

  it("are not told while the plate still warms", () => {
    expect(powersOf(showRise({ U1: WATTS }, NOISE_K, "warming").data, false).atRest).toBeNull();
  });
});
